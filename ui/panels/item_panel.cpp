#include "ui/panels/item_panel.h"

#include <QLabel>
#include <QLineEdit>
#include <QScrollArea>
#include <QVBoxLayout>

#include "ui/fields/small_widgets.h"
#include "ui/panels/edits.h"
#include "ui/panels/record_form.h"

namespace yw::ui {

using base::Id;

ItemPanel::ItemPanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  auto* outer = new QVBoxLayout(this);
  outer->setContentsMargins(0, 0, 0, 0);
  auto* scroll = new QScrollArea(this);
  scroll->setObjectName(QStringLiteral("itemScroll"));
  scroll->setAccessibleName(tr("This item"));
  scroll->setWidgetResizable(true);
  scroll->setFrameShape(QFrame::NoFrame);
  outer->addWidget(scroll);
  auto* body = new QWidget;
  column_ = new QVBoxLayout(body);
  column_->setContentsMargins(8, 6, 8, 8);
  empty_ = new QLabel(tr("Select something on the Yard to read and change it here."), body);
  empty_->setWordWrap(true);
  form_ = new RecordForm(document, body);
  column_->addWidget(empty_);
  column_->addWidget(form_);
  column_->addStretch(1);
  scroll->setWidget(body);
  connect(form_, &RecordForm::openAsked, this, [this](Id id) { document_.selection().set({id}); });
  connect(&document.selection(), &Selection::changed, this, [this] { show(); });
  connect(&document, &Document::yardChanged, this, [this] { show(); });
  show();
}

void ItemPanel::edit() {
  for (QLineEdit* line : form_->findChildren<QLineEdit*>())
    if (line->isVisible() && line->isEnabled()) {
      line->setFocus(Qt::ShortcutFocusReason);
      line->selectAll();
      return;
    }
  form_->setFocus();
}

void ItemPanel::addAction(const QString& text, const char* name, std::function<void()> act) {
  auto* button = new SentenceButton(text, actions_);
  button->setObjectName(QLatin1String(name));
  connect(button, &QPushButton::clicked, this, [act = std::move(act)] { act(); });
  actions_->layout()->addWidget(button);
}

void ItemPanel::show() {
  const auto& ids = document_.selection().ids();
  const yard::Yard& yard = document_.yard();
  const QString many = tr("These %1 items").arg(ids.size());
  Q_EMIT titleChanged(ids.size() > 1 ? many : tr("This item"));
  form_->setRecords(ids);
  empty_->setVisible(ids.empty());
  form_->setVisible(!ids.empty());
  std::string key;
  for (const Id id : ids) key += std::to_string(id.value) + " ";
  if (ids.size() == 1)
    if (const auto it = yard.records.find(*ids.begin()); it != yard.records.end())
      key += std::to_string(it->second->index());
  if (key == shownFor_ && actions_) return;
  shownFor_ = key;
  delete actions_;
  actions_ = nullptr;
  if (ids.empty()) return;
  actions_ = new QWidget(this);
  auto* column = new QVBoxLayout(actions_);
  column->setContentsMargins(0, 6, 0, 0);
  column_->insertWidget(column_->count() - 1, actions_);
  const Id id = *ids.begin();
  if (ids.size() == 1) {
    const auto* port = yard::find<yard::Port>(yard, id);
    const auto* run = yard::find<yard::Run>(yard, id);
    if (port) addAction(tr("Pull a run from this port"), "pullRun", [this, id] { Q_EMIT pullRunAsked(id); });
    if (run) {
      addAction(tr("Pull it on through more props"), "pullRun", [this, id] { Q_EMIT pullRunAsked(id); });
      addAction(tr("Put a feed by a click on the Yard"), "putFeed", [this] { Q_EMIT feedAsked(); });
    }
    if (run || yard::find<yard::Prop>(yard, id))
      addAction(tr("Show the volts along the run"), "showChart", [this] { Q_EMIT chartAsked(); });
    if (yard::find<yard::Wall>(yard, id))
      addAction(tr("Open this wall face-on"), "openWall", [this, id] { Q_EMIT wallAsked(id); });
  }
  const auto kind = commonKind(yard, ids);
  const bool placed = kind == yard::RecordKind::Prop || kind == yard::RecordKind::Box ||
                      kind == yard::RecordKind::Outlet || kind == yard::RecordKind::GroundFeature || !kind;
  if (placed) addAction(tr("Duplicate"), "duplicate", [this] { Q_EMIT duplicateAsked(); });
  if (kind == yard::RecordKind::Prop) addAction(tr("Turn by 90°"), "turn", [this] { Q_EMIT turnAsked(); });
  if (kind != yard::RecordKind::Settings && kind != yard::RecordKind::Site)
    addAction(tr("Delete %1").arg(nameOf(yard, ids)), "deleteItem", [this] { Q_EMIT deleteAsked(); });
}

}  // namespace yw::ui
