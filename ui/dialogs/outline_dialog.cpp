#include "ui/dialogs/outline_dialog.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFileDialog>
#include <QFormLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QKeyEvent>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTreeWidget>
#include <QTreeWidgetItemIterator>
#include <algorithm>
#include <map>

#include "core/edit/change.h"
#include "ui/dialogs/outline_picture.h"
#include "ui/fields/typed_field.h"
#include "ui/panels/edits.h"

namespace yw::ui {

using yard::FeatureKind;

namespace {

constexpr int kIndex = Qt::UserRole;

QString kindText(const std::optional<FeatureKind>& kind) {
  return kind ? QString::fromUtf8(yard::words(FeatureKind{})[static_cast<std::size_t>(*kind)].label)
              : OutlineDialog::tr("Left out");
}

double lengthOf(const file::Outline& outline) {
  double sum = 0;
  for (std::size_t i = 1; i < outline.points.size(); ++i)
    sum += base::distance(base::vec(outline.points[i - 1]), base::vec(outline.points[i]));
  if (outline.closed)
    sum += base::distance(base::vec(outline.points.back()), base::vec(outline.points.front()));
  return sum;
}

/// Ends of the longest side.
std::vector<base::Point> longestSide(const file::Outline& outline) {
  std::vector<base::Point> ends;
  double most = 0;
  for (std::size_t i = 0; i + (outline.closed ? 0 : 1) < outline.points.size(); ++i) {
    const base::Point a = outline.points[i], b = outline.points[(i + 1) % outline.points.size()];
    const double length = base::distance(base::vec(a), base::vec(b));
    if (length > most) most = length, ends = {a, b};
  }
  return ends;
}

}  // namespace

OutlineDialog::OutlineDialog(Document& document, QWidget* parent) : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("outline_dialog"));
  setWindowTitle(tr("Bring outlines in"));
  resize(860, 600);
  auto* column = new QVBoxLayout(this);
  auto* form = new QFormLayout;
  form->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  column->addLayout(form);
  const bool metric = yard::settings(document.yard()).units == base::UnitSystem::Metric;
  file_ = addFileRows(this, *form, QStringLiteral("outline"),
                      metric ? base::LengthUnit::Metres : base::LengthUnit::Feet);
  auto* both = new QHBoxLayout;
  column->addLayout(both, 1);
  picture_ = new OutlinePicture(this);
  both->addWidget(picture_, 3);
  auto* right = new QVBoxLayout;
  both->addLayout(right, 2);
  tree_ = new QTreeWidget(this);
  tree_->setObjectName(QStringLiteral("outline_tree"));
  tree_->setAccessibleName(tr("Outlines by layer"));
  tree_->setHeaderLabels({tr("Layer and outline"), tr("Length"), tr("Taken as")});
  tree_->setSelectionMode(QAbstractItemView::ExtendedSelection);
  tree_->header()->setSectionResizeMode(0, QHeaderView::Stretch);
  right->addWidget(tree_, 1);
  auto* side = new QFormLayout;
  side->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  right->addLayout(side);
  kind_ = new QComboBox(this);
  kind_->setObjectName(QStringLiteral("outline_kind"));
  kind_->setAccessibleName(tr("Take what is chosen as"));
  kind_->setMinimumHeight(26);
  kind_->addItem(tr("Left out"));
  for (const auto& word : yard::words(FeatureKind{})) kind_->addItem(QString::fromUtf8(word.label));
  side->addRow(tr("Take what is chosen as"), kind_);
  known_ = new LengthField(LengthField::Scale::Yard, this);
  known_->setNames(QStringLiteral("outline_known"), tr("True length from A to B"));
  side->addRow(tr("True length from A to B"), known_);
  const auto words = [&](const char* name, const char* ink) {
    auto* label = new QLabel(this);
    label->setObjectName(QLatin1String(name));
    label->setProperty("ink", QLatin1String(ink));
    label->setWordWrap(true);
    column->addWidget(label);
    return label;
  };
  said_ = words("outline_said", "second");
  reason_ = words("outline_reason", "danger");
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
  take_ = buttons->addButton(tr("Take them"), QDialogButtonBox::AcceptRole);
  take_->setObjectName(QStringLiteral("outline_take"));
  column->addWidget(buttons);
  connect(file_.browse, &QPushButton::clicked, this, [this] {
    const QString path = QFileDialog::getOpenFileName(this, tr("A drawing or a map of the yard"), {},
                                                      tr("Drawings and maps (*.svg *.dxf *.geojson *.json)"));
    if (!path.isEmpty()) setFile(path);
  });
  connect(file_.path, &QLineEdit::editingFinished, this, [this] { read(); });
  connect(file_.unit, &QComboBox::activated, this, [this] { read(); });
  connect(tree_, &QTreeWidget::itemSelectionChanged, this, [this] { chosenChanged(); });
  connect(kind_, &QComboBox::activated, this, &OutlineDialog::setKind);
  connect(picture_, &OutlinePicture::cornerClicked, this, &OutlineDialog::clickedCorner);
  connect(picture_, &OutlinePicture::outlineClicked, this, [this](std::size_t index) {
    for (QTreeWidgetItemIterator it(tree_); *it; ++it)
      if ((*it)->data(0, kIndex).toLongLong() == static_cast<qlonglong>(index)) {
        tree_->setCurrentItem(*it);
        tree_->scrollToItem(*it);
      }
  });
  known_->setCommitter([this](const FieldEdit& edit, const std::string&) {
    const auto typed =
        base::Length{std::get<std::int64_t>(edit(base::toLength({knownLength() * factor_}).count))};
    if (typed.count <= 0 || knownLength() <= 0) return tr("A length above zero is needed here.");
    factor_ = base::metres(typed).si / knownLength();
    refresh();
    return QString();
  });
  connect(buttons, &QDialogButtonBox::accepted, this, &OutlineDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  read();
}

void OutlineDialog::setFile(const QString& path) {
  file_.path->setText(path);
  read();
}

void OutlineDialog::read() {
  const std::string path = file_.path->text().trimmed().toStdString();
  read_ = {};
  reasonText_.clear();
  factor_ = 1.0;
  ends_.clear();
  endsPicked_ = false;
  if (!path.empty()) {
    auto read = file::readOutlinesFile(path, file_.unitNow());
    if (read)
      read_ = std::move(*read);
    else
      reasonText_ = errorText(read.error(), document_.yard());
  }
  fillTree();
  refresh();
}

void OutlineDialog::fillTree() {
  const QSignalBlocker quiet(tree_);
  tree_->clear();
  std::map<std::string, QTreeWidgetItem*> layers;
  for (std::size_t i = 0; i < read_.outlines.size(); ++i) {
    const file::Outline& outline = read_.outlines[i];
    QTreeWidgetItem*& layer = layers[outline.layer];
    if (!layer) {
      layer = new QTreeWidgetItem(tree_);
      layer->setText(0,
                     outline.layer.empty() ? tr("Without a layer") : QString::fromStdString(outline.layer));
      layer->setData(0, kIndex, -1);
    }
    auto* item = new QTreeWidgetItem(layer);
    item->setText(0, outline.name.empty() ? (outline.closed ? tr("Outline %1") : tr("Line %1")).arg(i + 1)
                                          : QString::fromStdString(outline.name));
    item->setData(0, kIndex, static_cast<qlonglong>(i));
  }
  tree_->expandAll();
  if (!read_.outlines.empty()) ends_ = longestSide(read_.outlines.front());
}

std::set<std::size_t> OutlineDialog::chosen() const {
  std::set<std::size_t> indices;
  for (const QTreeWidgetItem* item : tree_->selectedItems()) {
    if (item->data(0, kIndex).toLongLong() >= 0) indices.insert(item->data(0, kIndex).toULongLong());
    for (int i = 0; i < item->childCount(); ++i)
      indices.insert(item->child(i)->data(0, kIndex).toULongLong());
  }
  return indices;
}

void OutlineDialog::chosenChanged() {
  const auto indices = chosen();
  if (!endsPicked_ && !indices.empty()) ends_ = longestSide(read_.outlines[*indices.begin()]);
  refresh();
}

void OutlineDialog::setKind(int index) {
  auto indices = chosen();
  if (indices.empty())
    for (std::size_t i = 0; i < read_.outlines.size(); ++i) indices.insert(i);
  for (const std::size_t i : indices)
    read_.outlines[i].kind = index == 0 ? std::nullopt : std::optional(static_cast<FeatureKind>(index - 1));
  refresh();
}

void OutlineDialog::clickedCorner(base::Point place) {
  if (!endsPicked_ || ends_.size() == 2) ends_.clear();
  endsPicked_ = true;
  if (ends_.empty() || ends_.front() != place) ends_.push_back(place);
  refresh();
}

double OutlineDialog::knownLength() const {
  return ends_.size() == 2 ? base::distance(base::vec(ends_[0]), base::vec(ends_[1])) : 0.0;
}

void OutlineDialog::refresh() {
  const yard::Yard& yard = document_.yard();
  const auto indices = chosen();
  std::size_t taken = 0;
  for (QTreeWidgetItemIterator it(tree_); *it; ++it) {
    const qlonglong index = (*it)->data(0, kIndex).toLongLong();
    if (index < 0) continue;
    const file::Outline& outline = read_.outlines[static_cast<std::size_t>(index)];
    (*it)->setText(1, factText(base::toLength({lengthOf(outline) * factor_}), yard));
    (*it)->setText(2, kindText(outline.kind));
    taken += outline.kind ? 1 : 0;
  }
  {
    std::set<int> kinds;
    for (std::size_t i = 0; i < read_.outlines.size(); ++i)
      if (indices.empty() || indices.contains(i))
        kinds.insert(read_.outlines[i].kind ? static_cast<int>(*read_.outlines[i].kind) + 1 : 0);
    kind_->setCurrentIndex(kinds.size() == 1 ? *kinds.begin() : -1);
  }
  kind_->setEnabled(!read_.outlines.empty());
  file_.unit->setEnabled(!read_.sized);
  known_->setEnabled(ends_.size() == 2);
  known_->display({base::toLength({knownLength() * factor_}).count}, yard::settings(yard).units);
  QStringList said;
  if (file_.path->text().trimmed().isEmpty()) {
    said << tr("An SVG or DXF drawing, or a GeoJSON map (longitude and latitude, WGS 84; RFC 7946).");
  } else if (!read_.outlines.empty()) {
    said << tr("%1 of %2 outlines are taken. Choose rows or layers and say what they are. Click two corners "
               "in "
               "the plan and type their true distance to scale it.")
                .arg(taken)
                .arg(read_.outlines.size());
    for (const base::Message& note : read_.notes) said << messageText(note, yard);
  }
  picture_->show(&read_, indices, ends_);
  said_->setText(said.join(u'\n'));
  reason_->setText(reasonText_);
  reason_->setVisible(!reasonText_.isEmpty());
  take_->setEnabled(taken > 0);
}

void OutlineDialog::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)
    return event->accept();  // reads the file or the length, no more
  QDialog::keyPressEvent(event);
}

void OutlineDialog::accept() {
  if (!known_->commitTyped() || read_.outlines.empty()) return;
  const edit::Change change = file::takeOutlines(document_.yard(), file::scaled(read_, factor_));
  if (change.empty()) return;
  std::set<base::Id> before, made;
  for (const auto& [id, feature] : yard::all<yard::GroundFeature>(document_.yard())) before.insert(id);
  document_.commit(change);
  for (const auto& [id, feature] : yard::all<yard::GroundFeature>(document_.yard()))
    if (!before.contains(id)) made.insert(id);
  document_.selection().set(made);
  QDialog::accept();
}

}  // namespace yw::ui
