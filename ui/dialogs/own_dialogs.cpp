#include "ui/dialogs/own_dialogs.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <algorithm>
#include <numeric>

#include "core/shapes/chain.h"
#include "ui/dialogs/string_picture.h"
#include "ui/fields/typed_field.h"
#include "ui/panels/edits.h"

namespace yw::ui {

using base::Id;

namespace {

QLabel* words(QWidget* parent, const char* name, const char* ink) {
  auto* label = new QLabel(parent);
  label->setObjectName(QLatin1String(name));
  label->setProperty("ink", QLatin1String(ink));
  label->setWordWrap(true);
  return label;
}

double metresOf(const yard::Prop& prop, const char* size) {
  const yard::Prop usual = shapes::usualProp(prop.kind);
  const auto own = prop.sizes.find(size), common = usual.sizes.find(size);
  if (own != prop.sizes.end()) return base::metres(base::Length{own->second}).si;
  return common == usual.sizes.end() ? 0.0 : base::metres(base::Length{common->second}).si;
}

std::vector<std::size_t> asDrawn(std::size_t count) {
  std::vector<std::size_t> order(count);
  std::iota(order.begin(), order.end(), std::size_t{0});
  return order;
}

}  // namespace

ImportDialog::ImportDialog(Document& document, Id prop, QWidget* parent)
    : QDialog(parent), document_(document), prop_(prop) {
  setObjectName(QStringLiteral("import_dialog"));
  setWindowTitle(tr("Bring in a drawing"));
  resize(560, 620);
  if (const auto* found = yard::find<yard::Prop>(document.yard(), prop)) made_ = *found;
  made_.sizes.emplace("pitch", shapes::usualProp("own").sizes.at("pitch"));
  auto* column = new QVBoxLayout(this);
  auto* form = new QFormLayout;
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  column->addLayout(form);
  file_ = addFileRows(this, *form, QStringLiteral("import"), base::LengthUnit::Inches);
  pitch_ = new LengthField(LengthField::Scale::Hand, this);
  pitch_->setNames(QStringLiteral("import_pitch"), tr("Pixels apart"));
  form->addRow(tr("Pixels apart along lines"), pitch_);
  picture_ = new StringPicture(this);
  column->addWidget(picture_, 1);
  said_ = words(this, "import_said", "second");
  reason_ = words(this, "import_reason", "danger");
  column->addWidget(said_);
  column->addWidget(reason_);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
  take_ = buttons->addButton(tr("Take it"), QDialogButtonBox::AcceptRole);
  take_->setObjectName(QStringLiteral("import_take"));
  column->addWidget(buttons);
  connect(file_.browse, &QPushButton::clicked, this, [this] {
    const QString path = QFileDialog::getOpenFileName(this, tr("A drawing or a table of points"), {},
                                                      tr("Drawings and tables (*.svg *.dxf *.csv *.txt)"));
    if (!path.isEmpty()) setFile(path);
  });
  connect(file_.path, &QLineEdit::editingFinished, this, [this] { read(); });
  connect(file_.unit, &QComboBox::activated, this, [this] { read(); });
  pitch_->setCommitter([this](const FieldEdit& edit, const std::string&) {
    yard::Prop next = made_;
    next.sizes["pitch"] = std::get<std::int64_t>(edit(made_.sizes["pitch"]));
    next.stringOrder.clear();
    const auto shape = shapes::make(next);
    if (!shape) return errorText(shape.error(), document_.yard());
    made_ = std::move(next);
    read();
    return QString();
  });
  connect(buttons, &QDialogButtonBox::accepted, this, &ImportDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  read();
}

void ImportDialog::setFile(const QString& path) {
  file_.path->setText(path);
  read();
}

void ImportDialog::read() {
  const auto units = yard::settings(document_.yard()).units;
  pitch_->display({made_.sizes["pitch"]}, units);
  QStringList said;
  QString reason;
  good_ = false;
  const std::string path = file_.path->text().trimmed().toStdString();
  if (path.empty()) {
    said << tr(
        "A table of points (.csv, .txt; each point a pixel), an SVG or a DXF drawing (pixels along its "
        "lines).");
  } else if (const auto read = file::readOwnLines(path, file_.unitNow())) {
    made_.lines = read->lines;
    made_.stringOrder.clear();
    for (const base::Message& note : read->notes) said << messageText(note, document_.yard());
    if (const auto shape = shapes::make(made_)) {
      good_ = true;
      said.prepend(
          tr("%1 lines, %2 pixels, %3 wide, %4 high.")
              .arg(made_.lines.size())
              .arg(shape->pixels.size())
              .arg(factText(shape->width, document_.yard()), factText(shape->height, document_.yard())));
      for (const base::Message& warning : shape->warnings) said << messageText(warning, document_.yard());
      picture_->show(shape->pixels, asDrawn(shape->pixels.size()), metresOf(made_, "jumper"));
    } else {
      reason = errorText(shape.error(), document_.yard());
    }
  } else {
    reason = errorText(read.error(), document_.yard());
  }
  if (!good_) picture_->show({}, {}, 0);
  said_->setText(said.join(u'\n'));
  reason_->setText(reason);
  reason_->setVisible(!reason.isEmpty());
  take_->setEnabled(good_);
}

void ImportDialog::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)
    return event->accept();  // reads the file and shows it, no more
  QDialog::keyPressEvent(event);
}

void ImportDialog::accept() {
  if (!pitch_->commitTyped() || !good_) return;
  editRecord<yard::Prop>(document_, prop_,
                         tr("Bring a drawing in as %1").arg(labelText(document_.yard(), prop_)),
                         [this](yard::Prop& prop) {
                           prop.lines = made_.lines;
                           prop.sizes["pitch"] = made_.sizes["pitch"];
                           prop.stringOrder.clear();
                         });
  QDialog::accept();
}

OrderDialog::OrderDialog(Document& document, Id prop, QWidget* parent)
    : QDialog(parent), document_(document), prop_(prop) {
  setObjectName(QStringLiteral("order_dialog"));
  setWindowTitle(tr("Order of the string"));
  resize(640, 620);
  const auto* found = yard::find<yard::Prop>(document.yard(), prop);
  yard::Prop drawn = found ? *found : yard::Prop{};
  drawn.stringOrder.clear();
  if (const auto shape = shapes::make(drawn)) {
    places_ = shape->pixels;
    line_.resize(places_.size());
    std::size_t line = 0;
    for (const auto& part : shape->parts) {
      for (const yard::Range& range : part.ranges)
        for (std::int64_t k = range.first; k <= range.last; ++k)
          line_[static_cast<std::size_t>(k - 1)] = line;
      ++line;
    }
  }
  order_ = asDrawn(places_.size());
  if (found && found->stringOrder.size() == places_.size())
    for (std::size_t k = 0; k < order_.size(); ++k)
      order_[k] = static_cast<std::size_t>(found->stringOrder[k] - 1);
  reach_ = metresOf(drawn, "jumper");
  auto* column = new QVBoxLayout(this);
  picture_ = new StringPicture(this);
  column->addWidget(picture_, 1);
  said_ = words(this, "order_said", "second");
  column->addWidget(said_);
  auto* row = new QHBoxLayout;
  column->addLayout(row);
  const auto button = [&](const QString& text, const char* name, std::function<void()> act) {
    auto* made = new QPushButton(text, this);
    made->setObjectName(QLatin1String(name));
    made->setAutoDefault(false);
    row->addWidget(made);
    connect(made, &QPushButton::clicked, this, [this, act = std::move(act)] {
      act();
      refresh();
    });
  };
  button(tr("Shortest"), "order_short", [this] {
    if (places_.size() <= shapes::kMostInChain) order_ = shapes::shortChain(places_, reach_);
  });
  button(tr("As drawn"), "order_drawn", [this] { order_ = asDrawn(places_.size()); });
  button(tr("From the other end"), "order_turn", [this] { std::reverse(order_.begin(), order_.end()); });
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
  buttons->addButton(tr("String it so"), QDialogButtonBox::AcceptRole)
      ->setObjectName(QStringLiteral("order_take"));
  column->addWidget(buttons);
  connect(picture_, &StringPicture::moveAsked, this, &OrderDialog::move);
  connect(buttons, &QDialogButtonBox::accepted, this, &OrderDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  refresh();
}

void OrderDialog::move(std::size_t from, std::size_t to, bool stretch) {
  std::size_t first = from, last = from;
  if (stretch) {
    while (first > 0 && line_[order_[first - 1]] == line_[order_[from]]) --first;
    while (last + 1 < order_.size() && line_[order_[last + 1]] == line_[order_[from]]) ++last;
  }
  if (to >= first && to <= last) return;
  const auto at = [this](std::size_t n) { return order_.begin() + static_cast<std::ptrdiff_t>(n); };
  if (to < first)
    std::rotate(at(to), at(first), at(last + 1));
  else
    std::rotate(at(first), at(last + 1), at(to + 1));
  refresh();
}

void OrderDialog::refresh() {
  picture_->show(places_, order_, reach_);
  const auto cost = shapes::chainCost(places_, order_, reach_);
  QString text =
      tr("String from first to last pixel: %1.")
          .arg(factText(base::toLength({static_cast<double>(cost.micrometres) * 1e-6}), document_.yard()));
  if (cost.tooLong > 0) text += tr(" Hops longer than the longest jumper: %1, dashed.").arg(cost.tooLong);
  said_->setText(text + tr("\nDrag a pixel onto another to string it there; with Shift all of its line goes "
                           "along."));
}

void OrderDialog::accept() {
  editRecord<yard::Prop>(document_, prop_, tr("String %1 anew").arg(labelText(document_.yard(), prop_)),
                         [this](yard::Prop& prop) {
                           prop.stringOrder.clear();
                           if (order_ == asDrawn(order_.size())) return;
                           for (const std::size_t k : order_)
                             prop.stringOrder.push_back(static_cast<std::int64_t>(k) + 1);
                         });
  QDialog::accept();
}

}  // namespace yw::ui
