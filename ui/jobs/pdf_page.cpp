#include "ui/jobs/pdf_page.h"

#include <QCoreApplication>
#include <QEventLoop>
#include <QFileInfo>
#include <QProcess>
#include <QProgressDialog>
#include <QRegularExpression>

namespace yw::ui {
namespace {

QString words(const char* text) { return QCoreApplication::translate("yw::ui::PdfPage", text); }

/// Runs a reader to its end; false with the reason.
bool run(QProcess& process, const QString& program, const QStringList& arguments, QWidget* parent,
         QString& why) {
  QProgressDialog progress(words("Reading the page…"), words("Cancel"), 0, 0, parent);
  progress.setWindowModality(Qt::WindowModal);
  progress.setMinimumDuration(500);
  QEventLoop loop;
  QObject::connect(&process, &QProcess::finished, &loop, &QEventLoop::quit);
  QObject::connect(&process, &QProcess::errorOccurred, &loop, &QEventLoop::quit);
  QObject::connect(&progress, &QProgressDialog::canceled, &process, &QProcess::kill);
  process.start(program, arguments);
  if (process.state() != QProcess::NotRunning) loop.exec();
  if (process.error() == QProcess::FailedToStart) {
    why = words(
              "Pages of a PDF are read with %1, which is not installed. Install poppler-utils, or save the "
              "page "
              "as a PNG.")
              .arg(program);
    return false;
  }
  if (progress.wasCanceled()) return false;
  if (process.exitStatus() == QProcess::NormalExit && process.exitCode() == 0) return true;
  why = words("%1 cannot be read as a PDF: %2")
            .arg(QFileInfo(arguments.value(arguments.size() - 1)).fileName(),
                 QString::fromLocal8Bit(process.readAllStandardError()).trimmed().section(u'\n', 0, 0));
  return false;
}

}  // namespace

int pdfPages(const QString& path, QString& why) {
  QProcess process;
  if (!run(process, QStringLiteral("pdfinfo"), {path}, nullptr, why)) return 0;
  static const QRegularExpression pages(QStringLiteral("^Pages:\\s+(\\d+)"),
                                        QRegularExpression::MultilineOption);
  return pages.match(QString::fromUtf8(process.readAllStandardOutput())).captured(1).toInt();
}

QByteArray pdfPage(const QString& path, int page, QWidget* parent, QString& why) {
  QProcess process;
  const QString number = QString::number(page);
  if (!run(process, QStringLiteral("pdftoppm"),
           {QStringLiteral("-png"), QStringLiteral("-r"), QStringLiteral("200"), QStringLiteral("-f"), number,
            QStringLiteral("-l"), number, QStringLiteral("-singlefile"), path},
           parent, why))
    return {};
  return process.readAllStandardOutput();
}

}  // namespace yw::ui
