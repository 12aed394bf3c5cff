#include "ui/dialogs/print_dialog.h"

#include <QDialogButtonBox>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QLabel>
#include <QListWidget>
#include <QMessageBox>
#include <QPainter>
#include <QPrintDialog>
#include <QPrinter>
#include <QPushButton>
#include <QSpinBox>
#include <QVBoxLayout>

#include "ui/paint/painter.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {
BlobSource blobsOf(const Document& document) {
  return [&document](const std::string& key) {
    const auto blob = document.yard().blobs.find(key);
    return blob == document.yard().blobs.end() ? std::string() : *blob->second;
  };
}
}  // namespace

PrintDialog::PrintDialog(Document& document, QWidget* parent) : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("printDialog"));
  setWindowTitle(tr("Print"));
  resize(900, 700);
  document_.settleMargins();
  all_ = papers::sheetsOf(*document_.assessment());
  auto* row = new QHBoxLayout;
  auto* left = new QVBoxLayout;
  list_ = new QListWidget(this);
  list_->setObjectName(QStringLiteral("sheetList"));
  list_->setAccessibleName(tr("Sheets"));
  for (const auto& request : all_) {
    auto* item = new QListWidgetItem(
        QString::fromStdString(papers::sheetTitle(*document_.assessment(), request)), list_);
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
  connect(list_, &QListWidget::itemChanged, this, [this] { preview(); });
  connect(list_, &QListWidget::currentRowChanged, this, [this] { preview(); });
  connect(page_, &QSpinBox::valueChanged, this, [this] { preview(); });
  const auto mark = [this](Qt::CheckState state) {
    const QSignalBlocker quiet(list_);
    for (int i = 0; i < list_->count(); ++i) list_->item(i)->setCheckState(state);
    preview();
  };
  connect(every, &QPushButton::clicked, this, [mark] { mark(Qt::Checked); });
  connect(none, &QPushButton::clicked, this, [mark] { mark(Qt::Unchecked); });
  preview();
}

std::vector<papers::SheetRequest> PrintDialog::chosen() const {
  std::vector<papers::SheetRequest> some;
  for (int i = 0; i < list_->count(); ++i)
    if (list_->item(i)->checkState() == Qt::Checked) some.push_back(all_[static_cast<std::size_t>(i)]);
  return some;
}

void PrintDialog::preview() {
  const auto some = chosen();
  pages_ = some.empty() ? papers::Document{}
                        : papers::document(*document_.assessment(), *document_.report(), some);
  const QSignalBlocker quiet(page_);
  const int pages = static_cast<int>(pages_.pages.size());
  page_->setRange(pages ? 1 : 0, pages);
  count_->setText(tr("of %1").arg(pages));
  if (!pages) {
    picture_->setText(tr("No sheet is chosen."));
    return;
  }
  const papers::Page& page = pages_.pages[static_cast<std::size_t>(page_->value() - 1)];
  const QSizeF room = picture_->size();
  const double dots = std::min(room.width() / (page.width / 25.4), room.height() / (page.height / 25.4));
  QImage image =
      pageImage(page, dots * devicePixelRatioF(), Theme::of(Theme::Look::Paper), blobsOf(document_));
  image.setDevicePixelRatio(devicePixelRatioF());
  picture_->setPixmap(QPixmap::fromImage(image));
}

base::Result<void> PrintDialog::writeTo(const QString& path) {
  const auto some = chosen();
  const papers::Document pages = papers::document(*document_.assessment(), *document_.report(), some);
  auto written = writePdf(pages, path, blobsOf(document_));
  if (written) noteIssued(some);
  return written;
}

void PrintDialog::toPdf() {
  const QString path = QFileDialog::getSaveFileName(
      this, tr("Save the sheets"), document_.title() + QStringLiteral(".pdf"), tr("PDF (*.pdf)"));
  if (path.isEmpty()) return;
  const auto written = writeTo(path);
  if (!written) QMessageBox::warning(this, tr("Not saved"), errorText(written.error(), document_.yard()));
}

void PrintDialog::toPrinter() {
  QPrinter printer(QPrinter::HighResolution);
  QPrintDialog dialog(&printer, this);
  if (pages_.pages.empty() || dialog.exec() != QDialog::Accepted) return;
  printer.setFullPage(true);
  QPainter painter(&printer);
  for (std::size_t i = 0; i < pages_.pages.size(); ++i) {
    if (i > 0) printer.newPage();
    painter.save();
    painter.scale(printer.resolution() / 25.4, printer.resolution() / 25.4);
    paintPage(painter, pages_.pages[i], Theme::of(Theme::Look::Paper), blobsOf(document_));
    painter.restore();
  }
  noteIssued(chosen());
}

/// What went out is remembered, so that the next revision knows what it replaces.
void PrintDialog::noteIssued(const std::vector<papers::SheetRequest>& requests) {
  edit::Editor editor(document_.yard());
  const QString today = QDate::currentDate().toString(Qt::ISODate);
  for (const auto& request : requests) {
    const papers::Document one = papers::document(*document_.assessment(), *document_.report(), {request});
    const std::string hash = papers::contentHash(one);
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
  document_.commit(editor.finish(tr("Issue %1 sheets").arg(requests.size()).toStdString()));
}

}  // namespace yw::ui
