#include "ui/panels/item_panel.h"

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QVBoxLayout>

#include "ui/dialogs/my_props_dialog.h"
#include "ui/fields/flow_layout.h"
#include "ui/panels/edits.h"
#include "ui/panels/item_facts.h"
#include "ui/panels/measured.h"
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
  headline_ = new QLabel(body);
  headline_->setObjectName(QStringLiteral("itemHeadline"));
  headline_->setProperty("ink", QStringLiteral("title"));
  headline_->setWordWrap(true);
  facts_ = new QLabel(body);
  facts_->setObjectName(QStringLiteral("itemFacts"));
  facts_->setProperty("ink", QStringLiteral("second"));
  facts_->setWordWrap(true);
  facts_->setTextInteractionFlags(Qt::TextSelectableByMouse);
  form_ = new RecordForm(document, body);
  for (QWidget* part : std::initializer_list<QWidget*>{empty_, headline_, facts_, form_})
    column_->addWidget(part);
  column_->addStretch(1);
  scroll->setWidget(body);
  connect(form_, &RecordForm::openAsked, this, [this](Id id) { document_.selection().set({id}); });
  connect(&document.selection(), &Selection::changed, this, [this] { show(); });
  connect(&document, &Document::yardChanged, this, [this] { show(); });
  connect(&document, &Document::assessed, this, [this] {
    showFacts();
    rebuildActions();
  });
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
  auto* button = new QPushButton(text, actions_);
  button->setObjectName(QLatin1String(name));
  button->setMinimumHeight(26);
  connect(button, &QPushButton::clicked, this, [act = std::move(act)] { act(); });
  actions_->layout()->addWidget(button);
}

void ItemPanel::showFacts() {
  const auto& ids = document_.selection().ids();
  const QString lines = factsOf(document_, ids).join(QLatin1Char('\n'));
  headline_->setText(headlineOf(document_, ids));
  headline_->setVisible(!ids.empty());
  facts_->setText(lines);
  facts_->setVisible(!lines.isEmpty());
}

void ItemPanel::show() {
  const auto& ids = document_.selection().ids();
  const auto kind = commonKind(document_.shownYard(), ids);
  Q_EMIT titleChanged(ids.size() > 1 ? tr("These %1").arg(nameOf(document_.shownYard(), ids))
                                     : tr("This item"));
  form_->setRecords(ids);
  empty_->setVisible(ids.empty());
  form_->setVisible(!ids.empty() && kind);
  showFacts();
  rebuildActions();
}

void ItemPanel::rebuildActions() {
  const auto& ids = document_.selection().ids();
  const auto place = selectedPlace(document_);
  std::string key = std::to_string(place.first.value) + ":" + std::to_string(place.second);
  for (const Id id : ids) {
    const auto it = document_.shownYard().records.find(id);
    if (it == document_.shownYard().records.end()) continue;
    key += " " + std::to_string(id.value) + "." + std::to_string(it->second->index());
    key += document_.assessment()->wiredIn.contains(id) ? "w" : "";
    key += "." + std::to_string(freePortOf(document_.shownYard(), id).value);
  }
  if (key == shownFor_) return;
  shownFor_ = key;
  if (actions_) {
    actions_->hide();
    actions_->deleteLater();  // one of its buttons may be what is just pressed
    actions_ = nullptr;
  }
  if (ids.empty()) return;
  actions_ = new QWidget(this);
  actions_->setLayout(new FlowLayout);
  QSizePolicy policy(QSizePolicy::Preferred, QSizePolicy::Preferred);
  policy.setHeightForWidth(true);
  actions_->setSizePolicy(policy);
  addActions(ids);
  column_->insertWidget(column_->indexOf(form_), actions_);
}

void ItemPanel::addActions(const std::set<Id>& ids) {
  using yard::RecordKind;
  const yard::Yard& yard = document_.shownYard();
  const auto kind = commonKind(yard, ids);
  const Id id = *ids.begin();
  if (ids.size() == 1) {
    const bool run = kind == RecordKind::Run, prop = kind == RecordKind::Prop;
    if (selectedPlace(document_).first)
      addAction(tr("Put a feed at pixel %1").arg(document_.selection().pixel()), "feedHere",
                [this] { putFeedHere(); });
    if (selectedPlace(document_).first)
      addAction(tr("Write down what is measured at pixel %1").arg(document_.selection().pixel()),
                "measureHere", [this] { measureHere(); });
    if (const Id port = freePortOf(yard, id))
      addAction(tr("Pull a run from %1").arg(labelText(yard, port)), "pullRun",
                [this, port] { Q_EMIT pullRunAsked(port); });
    if (run) addAction(tr("Pull it on"), "pullRun", [this, id] { Q_EMIT pullRunAsked(id); });
    if (run) addAction(tr("Put a feed…"), "putFeed", [this] { Q_EMIT feedAsked(); });
    const auto wired = document_.assessment()->wiredIn.find(id);
    const bool onRun = wired != document_.assessment()->wiredIn.end() && !wired->second.empty();
    if (run || (prop && onRun))
      addAction(tr("Volts along the run"), "showChart", [this] { Q_EMIT chartAsked(); });
    if (kind == RecordKind::Wall)
      addAction(tr("Open face-on"), "openWall", [this, id] { Q_EMIT wallAsked(id); });
  }
  const bool placed = kind == RecordKind::Prop || kind == RecordKind::Box || kind == RecordKind::Outlet ||
                      kind == RecordKind::GroundFeature || !kind;
  if (kind == RecordKind::Prop) addAction(tr("Turn 90°"), "turn", [this] { Q_EMIT turnAsked(); });
  if (placed) addAction(tr("Duplicate"), "duplicate", [this] { Q_EMIT duplicateAsked(); });
  if (kind == RecordKind::Prop && ids.size() == 1)
    addAction(tr("Keep as my own"), "keepMine", [this, id] { keepAsMine(document_, id); });
  if (kind != RecordKind::Settings && kind != RecordKind::Site)
    addAction(tr("Delete"), "deleteItem", [this] { Q_EMIT deleteAsked(); });
}

void ItemPanel::measureHere() {
  document_.clearTentative();
  document_.settle();
  const auto [run, place] = selectedPlace(document_);
  askAndWriteDown(this, document_, measuringPlaces(*document_.assessment(), document_.yard(), run, place));
}

void ItemPanel::putFeedHere() {
  document_.clearTentative();
  document_.settle();
  const auto [run, place] = selectedPlace(document_);
  const auto proposal = propose::feedAt(document_.assessment(), run, place);
  if (!proposal) {
    Q_EMIT document_.said(
        tr("No free fuse position of the right voltage: add a supply or fuse positions to a box."));
    return;
  }
  document_.commit(proposal->change);
}

}  // namespace yw::ui
