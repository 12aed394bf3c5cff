#include "ui/panels/row_part.h"

#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QVBoxLayout>
#include <algorithm>

#include "core/shapes/ground_level.h"
#include "ui/canvas/row_edits.h"
#include "ui/dialogs/row_dialog.h"
#include "ui/fields/flow_layout.h"
#include "ui/panels/edits.h"

namespace yw::ui {

using base::Id;

RowPart::RowPart(Document& document, std::set<Id> ids, QWidget* parent)
    : FormPart(document, std::move(ids), parent) {
  auto* column = new QVBoxLayout(this);
  column->setContentsMargins(0, 0, 0, 0);
  words_ = new QLabel(this);
  words_->setObjectName(QStringLiteral("row_words"));
  words_->setWordWrap(true);
  own_ = new QCheckBox(tr("On its own: no longer changes with its row"), this);
  own_->setObjectName(QStringLiteral("row_own"));
  levels_ = new QLabel(this);
  levels_->setObjectName(QStringLiteral("row_levels"));
  levels_->setProperty("ink", QStringLiteral("second"));
  levels_->setWordWrap(true);
  auto* buttons = new QWidget(this);
  auto* flow = new FlowLayout;
  buttons->setLayout(flow);
  const auto button = [&](const QString& text, const char* name) {
    auto* made = new QPushButton(text, buttons);
    made->setObjectName(QLatin1String(name));
    made->setMinimumHeight(26);
    flow->addWidget(made);
    return made;
  };
  layOut_ = button(tr("Lay out in a row…"), "row_lay_out");
  select_ = button(tr("Select the whole row"), "row_select");
  level_ = button(tr("Bring the tops level"), "row_level");
  for (QWidget* one : std::initializer_list<QWidget*>{words_, own_, levels_, buttons}) column->addWidget(one);
  connect(own_, &QCheckBox::clicked, this, [this](bool on) { detach(on); });
  connect(layOut_, &QPushButton::clicked, this,
          [this] { RowDialog(this->document(), id(), window()).exec(); });
  connect(select_, &QPushButton::clicked, this, [this] { select(); });
  connect(level_, &QPushButton::clicked, this, [this] { level(); });
  refresh();
}

Id RowPart::row() const {
  const Id row = edits::rowOf(yard(), id());
  for (const Id one : ids())
    if (edits::rowOf(yard(), one) != row) return {};
  return row;
}

/// `Legs for level tops: Arch 1 1′, Arch 2 1′ 3″`; empty without spot heights.
QString RowPart::levelWords() const {
  const auto* array = yard::find<yard::PropArray>(yard(), row());
  if (!array || yard::all<yard::SpotHeight>(yard()).empty()) return {};
  std::vector<Id> members;
  for (const yard::ArrayMember& member : array->members) {
    const auto* prop = yard::find<yard::Prop>(yard(), member.prop);
    if (prop && !prop->wall) members.push_back(member.prop);
  }
  const auto level = shapes::levelRow(yard(), members, 0.0);
  QStringList legs;
  for (std::size_t k = 0; k < level.props.size(); ++k)
    legs << tr("%1 %2").arg(labelText(yard(), level.props[k]),
                            factText(base::toLength({level.reveals.each[k]}), yard()));
  return legs.size() < 2 ? QString()
                         : tr("Legs or stakes that bring the tops level: %1.").arg(legs.join(tr(", ")));
}

void RowPart::refresh() {
  const auto* array = yard::find<yard::PropArray>(yard(), row());
  const auto* prop = yard::find<yard::Prop>(yard(), id());
  std::int64_t own = 0;
  bool allOwn = array != nullptr;
  if (array)
    for (const yard::ArrayMember& member : array->members) {
      own += member.detached;
      if (ids().contains(member.prop)) allOwn = allOwn && member.detached;
    }
  if (array) {
    QString words = tr("Row “%1”, %2 props: a size, choice, pixel, mount or status changed on one is changed "
                       "on all.")
                        .arg(QString::fromStdString(array->name))
                        .arg(array->members.size());
    if (own > 0) words += tr(" On their own: %1.").arg(own);
    words_->setText(words);
  }
  const QString levels = levelWords();
  levels_->setText(levels);
  words_->setVisible(array);
  own_->setVisible(array);
  own_->setChecked(allOwn);
  levels_->setVisible(!levels.isEmpty());
  level_->setVisible(!levels.isEmpty());
  select_->setVisible(array && ids().size() < array->members.size());
  layOut_->setText(array ? tr("Lay the row out anew…") : tr("Lay out in a row…"));
  layOut_->setVisible(prop && (ids().size() == 1 || array));
}

void RowPart::select() {
  std::set<Id> all;
  if (const auto* array = yard::find<yard::PropArray>(yard(), row()))
    for (const yard::ArrayMember& member : array->members) all.insert(member.prop);
  document().selection().set(all);
}

void RowPart::detach(bool on) {
  edit::Editor editor(document().yard());
  for (const Id one : ids()) edits::setDetached(editor, one, on);
  const QString name = nameOf(document().yard(), ids());
  document().commit(editor.finish(
      (on ? tr("Set %1 on its own").arg(name) : tr("Let %1 follow its row").arg(name)).toStdString()));
}

void RowPart::level() {
  edit::Editor editor(document().yard());
  edits::levelTops(editor, id(), base::Length{0});
  document().commit(
      editor.finish(tr("Bring the tops of %1 level")
                        .arg(labelText(document().yard(), edits::rowOf(document().yard(), id())))
                        .toStdString()));
}

}  // namespace yw::ui
