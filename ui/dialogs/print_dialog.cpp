#include "ui/dialogs/print_dialog.h"

#include <QApplication>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QMessageBox>
#include <QPainter>
#include <QPointer>
#include <QPrintDialog>
#include <QPrinter>
#include <QProgressDialog>
#include <QPushButton>
#include <QSpinBox>
#include <QThreadPool>
#include <QVBoxLayout>

#include "core/assess/margin_study.h"
#include "core/file/yard_file.h"
#include "ui/jobs/progress.h"
#include "ui/paint/painter.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {
/// Owns the yard, so that another thread may ask it.
BlobSource blobsOf(const assess::AssessmentPtr& assessment) {
  return [assessment](const std::string& key) {
    const auto blob = assessment->yard.blobs.find(key);
    return blob == assessment->yard.blobs.end() ? std::string() : *blob->second;
  };
}
}  // namespace

struct PrintDialog::Job {
  std::vector<papers::SheetRequest> requests;
  std::shared_ptr<const papers::Document> pages;
  std::shared_ptr<Progress> progress = std::make_shared<Progress>();
};

PrintDialog::PrintDialog(Document& document, QWidget* parent) : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("printDialog"));
  setWindowTitle(tr("Print"));
  resize(900, 700);
  document_.settle();
  assessment_ = document_.assessment();
  pages_ = std::make_shared<const papers::Document>();
  all_ = papers::sheetsOf(*assessment_);
  auto* row = new QHBoxLayout;
  auto* left = new QVBoxLayout;
  list_ = new QListWidget(this);
  list_->setObjectName(QStringLiteral("sheetList"));
  list_->setAccessibleName(tr("Sheets"));
  for (const std::string& title : papers::sheetTitles(*assessment_, all_)) {
    auto* item = new QListWidgetItem(QString::fromStdString(title), list_);
    item->setFlags(item->flags() | Qt::ItemIsUserCheckable);
    item->setCheckState(Qt::Checked);
  }
  auto* marks = new QHBoxLayout;
  auto* every = new QPushButton(tr("All"), this);
  auto* none = new QPushButton(tr("None"), this);
  every->setObjectName(QStringLiteral("allSheets"));
  none->setObjectName(QStringLiteral("noSheets"));
  marks->addWidget(every);
  marks->addWidget(none);
  left->addWidget(list_, 1);
  left->addLayout(marks);
  auto* right = new QVBoxLayout;
  picture_ = new QLabel(this);
  picture_->setObjectName(QStringLiteral("preview"));
  picture_->setAccessibleName(tr("Preview of the page"));
  picture_->setAlignment(Qt::AlignCenter);
  picture_->setMinimumSize(300, 360);
  auto* turn = new QHBoxLayout;
  page_ = new QSpinBox(this);
  page_->setObjectName(QStringLiteral("previewPage"));
  page_->setAccessibleName(tr("Page"));
  count_ = new QLabel(this);
  turn->addStretch(1);
  turn->addWidget(new QLabel(tr("Page"), this));
  turn->addWidget(page_);
  turn->addWidget(count_);
  turn->addStretch(1);
  right->addWidget(picture_, 1);
  right->addLayout(turn);
  row->addLayout(left, 2);
  row->addLayout(right, 3);
  auto* outer = new QVBoxLayout(this);
  outer->addLayout(row, 1);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
  auto* pdf = buttons->addButton(tr("Save as PDF…"), QDialogButtonBox::ActionRole);
  auto* print = buttons->addButton(tr("Print…"), QDialogButtonBox::ActionRole);
  pdf->setObjectName(QStringLiteral("toPdf"));
  print->setObjectName(QStringLiteral("toPrinter"));
  outer->addWidget(buttons);
  for (QPushButton* other : {every, none, pdf}) other->setAutoDefault(false);
  print->setDefault(true);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(pdf, &QPushButton::clicked, this, [this] { toPdf(); });
  connect(print, &QPushButton::clicked, this, [this] { toPrinter(); });
  connect(list_, &QListWidget::itemChanged, this, [this] { layOut(); });
  connect(list_, &QListWidget::currentRowChanged, this, &PrintDialog::turnToSheet);
  connect(page_, &QSpinBox::valueChanged, this, [this] { showPage(); });
  const auto mark = [this](Qt::CheckState state) {
    const QSignalBlocker quiet(list_);
    for (int i = 0; i < list_->count(); ++i) list_->item(i)->setCheckState(state);
    layOut();
  };
  connect(every, &QPushButton::clicked, this, [mark] { mark(Qt::Checked); });
  connect(none, &QPushButton::clicked, this, [mark] { mark(Qt::Unchecked); });
  telling_.setInterval(100);
  connect(&telling_, &QTimer::timeout, this, [this] { showPlace(); });
  layOut();
}

PrintDialog::~PrintDialog() {
  if (job_) job_->progress->stop = true;
}

std::vector<papers::SheetRequest> PrintDialog::chosen() const {
  std::vector<papers::SheetRequest> some;
  for (int i = 0; i < list_->count(); ++i)
    if (list_->item(i)->checkState() == Qt::Checked) some.push_back(all_[static_cast<std::size_t>(i)]);
  return some;
}

void PrintDialog::layOut() {
  if (job_) job_->progress->stop = true;
  auto job = std::make_shared<Job>();
  job->requests = chosen();
  job->progress->of = static_cast<int>(job->requests.size());
  job_ = job;
  // Not waited for when the dialog closes: a large sheet in hand may take its time.
  QThreadPool::globalInstance()->start([job, a = assessment_, self = QPointer<PrintDialog>(this)] {
    const auto tell = [&self](auto what) {
      QMetaObject::invokeMethod(
          qApp,
          [self, what] {
            if (self) what(*self);
          },
          Qt::QueuedConnection);
    };
    const auto stopped = [&job] { return job->progress->stop.load(); };
    if (!job->requests.empty() && !stopped()) {  // something to see while the others come
      auto first = std::make_shared<const papers::Document>(
          papers::document(*a, findings::report(*a), {job->requests.front()}));
      tell([job, first](PrintDialog& dialog) { dialog.showFirst(job, first); });
    }
    if (!stopped()) assess::studyMargins(*a, job->progress->stop);  // how surely a run keeps its volts
    job->pages = std::make_shared<const papers::Document>(
        stopped() ? papers::Document{}
                  : papers::document(*a, findings::report(*a), job->requests, [&](std::size_t done) {
                      job->progress->done = static_cast<int>(done);
                      return !stopped();
                    }));
    job->progress->ended = true;
    tell([job](PrintDialog& dialog) { dialog.takeJob(job); });
  });
  telling_.start();
  showPlace();
}

void PrintDialog::showFirst(const std::shared_ptr<Job>& job,
                            const std::shared_ptr<const papers::Document>& first) {
  if (job != job_ || !pages_->pages.empty()) return;
  pages_ = first;
  const QSignalBlocker quiet(page_);
  page_->setRange(1, static_cast<int>(pages_->pages.size()));
  showPage();
}

/// Its pages, once; of a job that was overtaken nothing.
void PrintDialog::takeJob(const std::shared_ptr<Job>& job) {
  if (job != job_ || !job->pages) return;
  pages_ = job->pages;
  laid_ = job->requests;
  job_.reset();
  telling_.stop();
  const QSignalBlocker quiet(page_);
  const int pages = static_cast<int>(pages_->pages.size());
  page_->setRange(pages ? 1 : 0, pages);
  showPage();
}

/// Beside the page's number: of how many, or how far the laying out has come.
void PrintDialog::showPlace() {
  if (job_)
    count_->setText(tr("laying out sheet %1 of %2…").arg(job_->progress->done + 1).arg(job_->progress->of));
  else
    count_->setText(tr("of %1").arg(pages_->pages.size()));
}

void PrintDialog::turnToSheet(int row) {
  if (job_ || row < 0) return;
  const papers::SheetRequest& wanted = all_[static_cast<std::size_t>(row)];
  for (std::size_t i = 0; i < laid_.size(); ++i)
    if (laid_[i].kind == wanted.kind && laid_[i].subject == wanted.subject)
      page_->setValue(static_cast<int>(pages_->sheets[i].firstPage) + 1);
}

void PrintDialog::showPage() {
  showPlace();
  if (pages_->pages.empty()) {
    picture_->setText(job_ ? QString() : tr("No sheet is chosen."));
    return;
  }
  const papers::Page& page = pages_->pages[static_cast<std::size_t>(std::max(1, page_->value()) - 1)];
  const QSizeF room = picture_->size();
  const double dots = std::min(room.width() / (page.width / 25.4), room.height() / (page.height / 25.4));
  QImage image =
      pageImage(page, dots * devicePixelRatioF(), Theme::of(Theme::Look::Paper), blobsOf(assessment_));
  image.setDevicePixelRatio(devicePixelRatioF());
  picture_->setPixmap(QPixmap::fromImage(image));
}

bool PrintDialog::laidOut() {
  const auto job = job_;
  if (!job) return true;
  if (!waitFor(this, tr("Laying out the sheets…"), job->progress)) {
    layOut();  // what was stopped begins again, beside the dialog
    return false;
  }
  takeJob(job);
  return true;
}

base::Result<bool> PrintDialog::writeTo(const QString& path) {
  if (!laidOut()) return false;
  const auto written = std::make_shared<base::Result<void>>();
  const bool whole =
      runWithProgress(this, tr("Writing the PDF…"),
                      [pages = pages_, path, written, blobs = blobsOf(assessment_)](Progress& progress) {
                        progress.of = static_cast<int>(pages->pages.size());
                        const std::string bytes = pdfBytes(*pages, blobs, [&](std::size_t done) {
                          progress.done = static_cast<int>(done);
                          return !progress.stop;
                        });
                        if (!progress.stop) *written = file::writeWhole(path.toStdString(), bytes);
                      });
  if (!whole) return false;
  if (!*written) return tl::unexpected(written->error());
  noteIssued();
  return true;
}

void PrintDialog::toPdf() {
  const QString path = QFileDialog::getSaveFileName(
      this, tr("Save the sheets"), document_.title() + QStringLiteral(".pdf"), tr("PDF (*.pdf)"));
  if (path.isEmpty()) return;
  const auto written = writeTo(path);
  if (!written) QMessageBox::warning(this, tr("Not saved"), errorText(written.error(), document_.yard()));
}

void PrintDialog::toPrinter() {
  if (!laidOut()) return;
  QPrinter printer(QPrinter::HighResolution);
  QPrintDialog dialog(&printer, this);
  if (pages_->pages.empty() || dialog.exec() != QDialog::Accepted) return;
  printer.setFullPage(true);
  QPainter painter(&printer);
  const int count = static_cast<int>(pages_->pages.size());
  QProgressDialog sign(tr("Printing…"), tr("Cancel"), 0, count, this);
  sign.setWindowModality(Qt::WindowModal);
  for (int i = 0; i < count; ++i) {
    sign.setValue(i);
    if (sign.wasCanceled()) {
      printer.abort();
      return;
    }
    if (i > 0) printer.newPage();
    painter.save();
    painter.scale(printer.resolution() / 25.4, printer.resolution() / 25.4);
    paintPage(painter, pages_->pages[static_cast<std::size_t>(i)], Theme::of(Theme::Look::Paper),
              blobsOf(assessment_));
    painter.restore();
  }
  sign.setValue(count);
  noteIssued();
}

/// What went out is remembered, so that the next revision knows what it replaces.
void PrintDialog::noteIssued() {
  edit::Editor editor(document_.yard());
  const QString today = QDate::currentDate().toString(Qt::ISODate);
  for (std::size_t i = 0; i < laid_.size(); ++i) {
    const papers::SheetRequest& request = laid_[i];
    const std::string& hash = pages_->sheets[i].hash;
    if (hash.empty()) continue;  // it was gone
    base::Id known;
    yard::IssuedSheet sheet{request.kind, request.subject, 1, today.toStdString(), hash};
    for (const auto& [id, old] : yard::all<yard::IssuedSheet>(document_.yard()))
      if (old->sheet == request.kind && old->subject == request.subject) {
        known = id;
        sheet.revision = old->hash == hash ? old->revision : old->revision + 1;
        if (old->hash == hash) sheet.date = old->date;
      }
    known ? editor.replace(known, sheet) : static_cast<void>(editor.add(sheet));
  }
  const bool saved = document_.isSaved();
  document_.commit(editor.finish(tr("Issue %1 sheets").arg(laid_.size()).toStdString()));
  if (saved)
    Q_EMIT document_.said(tr("The yard now holds which sheets went out, for the next revision: save it."));
}

}  // namespace yw::ui
