#include "ui/dialogs/row_dialog.h"

#include <QCheckBox>
#include <QComboBox>
#include <QDialogButtonBox>
#include <QFormLayout>
#include <QKeyEvent>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>
#include <cmath>

#include "ui/canvas/row_edits.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/edits.h"

namespace yw::ui {

using base::Id;
using base::Length;
using base::Point;
using yard::FieldType;

namespace {

/// So far from there, at an angle from the plan's right, anticlockwise.
Point along(Point from, Length far, base::Angle way) {
  const double r = base::metres(far).si, a = base::radians(way);
  return from + base::point({r * std::cos(a), r * std::sin(a)});
}

}  // namespace

RowDialog::RowDialog(Document& document, Id prop, QWidget* parent)
    : QDialog(parent), document_(document), prop_(prop) {
  setObjectName(QStringLiteral("row_dialog"));
  setMinimumWidth(420);
  const yard::Yard& yard = document.yard();
  const auto* row = yard::find<yard::PropArray>(yard, edits::rowOf(yard, prop));
  if (row) prop_ = row->members.front().prop;
  if (const auto* found = yard::find<yard::Prop>(yard, prop_)) like_ = *found;
  setWindowTitle(row ? tr("Lay the row out anew") : tr("Lay out in a row"));
  auto* column = new QVBoxLayout(this);
  form_ = new QFormLayout;
  form_->setFieldGrowthPolicy(QFormLayout::AllNonFixedFieldsGrow);
  column->addLayout(form_);
  const auto combo = [&](const char* name, const QString& label) {
    auto* made = new QComboBox(this);
    made->setObjectName(QLatin1String(name));
    made->setAccessibleName(label);
    made->setMinimumHeight(26);
    form_->addRow(label, made);
    connect(made, &QComboBox::activated, this, [this] { refresh(); });
    return made;
  };
  layout_ = combo("row_layout", tr("Laid out"));
  layout_->addItem(tr("In a line"), Line);
  layout_->addItem(tr("In a grid"), Grid);
  if (!like_.wall) layout_->addItem(tr("In an arc"), Arc);
  if (!like_.wall) layout_->addItem(tr("Along a walk, drive, bed or line"), Path);
  layout_->addItem(tr("As a mirrored pair"), Mirror);
  path_ = combo("row_path", tr("Along"));
  const std::int64_t members = row ? static_cast<std::int64_t>(row->members.size()) : 3;
  const Length apart = [&] {
    const auto shape = shapes::make(like_);
    return shape ? Length{std::max(base::feet(1).count, shape->width.count * 5 / 4)} : base::feet(4);
  }();
  const std::int64_t far = base::feet(1'000).count;
  constexpr std::int64_t kTurn = 360'000'000;
  asked_ = {
      {"row_count", tr("How many"), FieldType::Count, members, 1, 500, {Line, Arc, Path}},
      {"row_length",
       tr("First to last"),
       FieldType::Length,
       apart.count * std::max<std::int64_t>(1, members - 1),
       1,
       far,
       {Line}},
      {"row_way",
       like_.wall ? tr("Rising at") : tr("Towards, from the plan's right"),
       FieldType::Angle,
       0,
       -kTurn,
       kTurn,
       {Line}},
      {"row_radius", tr("Radius"), FieldType::Length, base::feet(10).count, 1, far, {Arc}},
      {"row_sweep", tr("Part of a circle"), FieldType::Angle, kTurn / 4, -kTurn, kTurn, {Arc}},
      {"row_columns", tr("In a row"), FieldType::Count, members, 1, 100, {Grid}},
      {"row_rows", tr("Rows"), FieldType::Count, 2, 1, 100, {Grid}},
      {"row_across", tr("Apart in a row"), FieldType::Length, apart.count, 1, far, {Grid}},
      {"row_deep",
       like_.wall ? tr("Rows apart, upward") : tr("Rows apart, up the plan"),
       FieldType::Length,
       apart.count,
       1,
       far,
       {Grid}},
      {"row_axis", tr("Mirror line right of it by"), FieldType::Length, apart.count, -far, far, {Mirror}},
  };
  addFields(form_);
  facingIn_ = new QCheckBox(tr("Fronts face the middle"), this);
  facingIn_->setObjectName(QStringLiteral("row_facing_in"));
  form_->addRow(QString(), facingIn_);
  connect(facingIn_, &QCheckBox::clicked, this, [this] { refresh(); });
  walk_ = combo("row_walk", tr("Numbered along"));
  walk_->addItem(tr("the row itself"), QVariant());
  for (const auto& [id, name] : namedRecords(yard, {yard::RecordKind::GroundFeature})) {
    walk_->addItem(name, QVariant::fromValue<qlonglong>(id.value));
    path_->addItem(name, QVariant::fromValue<qlonglong>(id.value));
  }
  reason_ = new QLabel(this);
  reason_->setObjectName(QStringLiteral("row_reason"));
  reason_->setProperty("ink", QStringLiteral("danger"));
  reason_->setWordWrap(true);
  column->addWidget(reason_);
  auto* buttons = new QDialogButtonBox(this);
  buttons->addButton(tr("Lay out"), QDialogButtonBox::AcceptRole)->setObjectName(QStringLiteral("row_take"));
  buttons->addButton(QDialogButtonBox::Cancel);
  connect(buttons, &QDialogButtonBox::accepted, this, &RowDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  column->addWidget(buttons);
  refresh();
}

RowDialog::~RowDialog() { document_.clearTentative(); }

void RowDialog::addFields(QFormLayout* form) {
  for (Asked& asked : asked_) {
    yard::FieldInfo info{};
    info.name = asked.name;
    info.label = asked.label.toStdString();
    info.type = asked.type;
    info.least = asked.least;
    info.most = asked.most;
    asked.field = new TypedField(info, {}, this);
    asked.field->setNames(QString::fromStdString(asked.name), asked.label);
    asked.field->setCommitter([this, &asked](const FieldEdit& edit, const std::string&) {
      const auto typed = std::get<std::int64_t>(edit(asked.value));
      if (typed < asked.least || typed > asked.most) return tr("That is too little or too much for a row.");
      asked.value = typed;
      refresh();
      return QString();
    });
    form->addRow(asked.label, asked.field);
  }
}

std::int64_t RowDialog::value(const std::string& name) const {
  for (const Asked& asked : asked_)
    if (asked.name == name) return asked.value;
  return 0;
}

std::vector<Point> RowDialog::outline(const QComboBox* combo) const {
  const auto* feature =
      yard::find<yard::GroundFeature>(document_.yard(), Id{combo->currentData().toLongLong()});
  return feature ? feature->outline : std::vector<Point>{};
}

std::vector<shapes::Spot> RowDialog::spots() const {
  const auto layout = static_cast<Layout>(layout_->currentData().toInt());
  const std::int64_t count = value("row_count");
  std::vector<shapes::Spot> spots;
  if (layout == Line)
    spots = shapes::inLine(like_.at, along(like_.at, {value("row_length")}, {value("row_way")}), count,
                           like_.heading);
  if (layout == Grid)
    spots = shapes::inGrid(like_.at, value("row_columns"), value("row_rows"), {value("row_across")},
                           {value("row_deep")}, like_.heading);
  if (layout == Path) spots = shapes::alongPath(outline(path_), count);
  if (layout == Arc) {
    // The first stays where it is; its front already faces out, or in.
    const bool in = facingIn_->isChecked();
    const base::Angle start{like_.heading.count - 90'000'000 + (in ? 180'000'000 : 0)};
    const Point middle = along(like_.at, {value("row_radius")}, {start.count + 180'000'000});
    spots = shapes::inArc(middle, {value("row_radius")}, start, {value("row_sweep")}, count, in);
  }
  return shapes::numberedAlong(std::move(spots), outline(walk_));
}

edit::Change RowDialog::change() const {
  edit::Editor editor(document_.yard());
  const std::string name = tr("Lay out %1 in a row").arg(labelText(document_.yard(), prop_)).toStdString();
  if (layout_->currentData().toInt() != Mirror) {
    edits::layOut(editor, prop_, spots());
    return editor.finish(name);
  }
  const auto all = edits::layOut(editor, prop_, {{like_.at, like_.heading}, {like_.at, like_.heading}});
  if (all.size() < 2) return editor.finish(name);
  editor.update<yard::Prop>(all[1], [&](yard::Prop& other) {
    const std::string called = other.name;
    other = shapes::mirrored(like_, like_.at.x + Length{value("row_axis")});
    other.name = called;
  });
  return editor.finish(tr("Mirror %1").arg(labelText(document_.yard(), prop_)).toStdString());
}

void RowDialog::refresh() {
  const auto layout = static_cast<Layout>(layout_->currentData().toInt());
  const auto units = yard::settings(document_.yard()).units;
  const auto show = [this](QWidget* field, bool on) {
    field->setVisible(on);
    if (QWidget* label = form_->labelForField(field)) label->setVisible(on);
  };
  for (const Asked& asked : asked_) {
    show(asked.field, std::find(asked.in.begin(), asked.in.end(), layout) != asked.in.end());
    asked.field->display({asked.value}, units);
  }
  show(path_, layout == Path);
  show(facingIn_, layout == Arc);
  show(walk_, layout != Mirror && !like_.wall);
  const bool nowhere = layout != Mirror && spots().empty();
  reason_->setText(nowhere ? tr("There is nothing drawn on the ground to go along. Draw a walk, a bed or a "
                                "line first.")
                           : QString());
  reason_->setVisible(nowhere);
  if (nowhere)
    document_.clearTentative();
  else
    document_.setTentative(change());
}

void RowDialog::keyPressEvent(QKeyEvent* event) {
  if (event->key() == Qt::Key_Return || event->key() == Qt::Key_Enter)
    return event->accept();  // takes what is typed and shows it, no more
  QDialog::keyPressEvent(event);
}

void RowDialog::accept() {
  for (Asked& asked : asked_)
    if (asked.field->isVisible() && !asked.field->commitTyped()) return;
  if (reason_->isVisible()) return;
  document_.clearTentative();
  document_.commit(change());
  std::set<Id> all;
  if (const auto* row = yard::find<yard::PropArray>(document_.yard(), edits::rowOf(document_.yard(), prop_)))
    for (const yard::ArrayMember& member : row->members) all.insert(member.prop);
  if (!all.empty()) document_.selection().set(all);
  QDialog::accept();
}

}  // namespace yw::ui
