#include "ui/panels/attention_panel.h"

#include <QApplication>
#include <QHBoxLayout>
#include <QLabel>
#include <QScrollArea>
#include <QScrollBar>
#include <QTimer>
#include <QVBoxLayout>

#include "ui/dialogs/reason_dialog.h"
#include "ui/fields/look.h"
#include "ui/fields/small_widgets.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

constexpr int kFirstSeen = 8;
constexpr int kMoreSeen = 20;

QLabel* wrapped(const QString& text, QWidget* parent, const char* ink = nullptr) {
  auto* label = new QLabel(text, parent);
  label->setWordWrap(true);
  if (ink) label->setProperty("ink", QString::fromUtf8(ink));
  return label;
}

QString countsText(const findings::Report& report) {
  int counts[4] = {};
  for (const auto& finding : report.findings) ++counts[static_cast<int>(finding.severity)];
  QStringList words;
  for (int i = 0; i < 4; ++i)
    if (counts[i])
      words << QStringLiteral("%1 %2").arg(severityWord(static_cast<findings::Severity>(i))).arg(counts[i]);
  if (!words.isEmpty()) return words.join(QStringLiteral(" · "));
  return report.notWired.empty() ? AttentionPanel::tr("Nothing needs attention")
                                 : AttentionPanel::tr("Nothing in what is wired needs attention");
}

const findings::Rule* ruleOf(const std::string& key) {
  for (const auto& rule : findings::rules())
    if (key == rule.key) return &rule;
  return nullptr;
}

}  // namespace

AttentionPanel::AttentionPanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  setObjectName(QStringLiteral("attention_panel"));
  auto* layout = new QVBoxLayout(this);
  layout->setContentsMargins(8, 6, 4, 4);
  layout->setSpacing(2);
  auto* head = new QHBoxLayout;
  counts_ = new QLabel(this);
  counts_->setObjectName(QStringLiteral("attention_counts"));
  counts_->setWordWrap(true);
  busy_ = new QLabel(tr("computing…"), this);
  busy_->setObjectName(QStringLiteral("attention_busy"));
  busy_->setProperty("ink", QStringLiteral("second"));
  busy_->hide();
  head->addWidget(counts_, 1);
  head->addWidget(busy_);
  layout->addLayout(head);
  scroll_ = new QScrollArea(this);
  scroll_->setObjectName(QStringLiteral("attention_list"));
  scroll_->setAccessibleName(tr("Needs attention, worst first"));
  scroll_->setWidgetResizable(true);
  scroll_->setFrameShape(QFrame::NoFrame);
  scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
  scroll_->setFocusPolicy(Qt::NoFocus);
  layout->addWidget(scroll_, 1);
  connect(&document_, &Document::assessed, this, [this] {
    rebuild();
    lookForRemedy();
  });
  connect(&document_, &Document::staleChanged, this, [this](bool stale) {
    // A figure that is being computed anew says so, but not for the blink of an eye.
    if (!stale)
      busy_->hide();
    else
      QTimer::singleShot(300, this, [this] { busy_->setVisible(document_.stale()); });
  });
  connect(&document_, &Document::fileChanged, this, [this] {
    opened_.clear();
    openGroups_.clear();
    remedies_.clear();
  });
  connect(&document_.selection(), &Selection::changed, this, &AttentionPanel::markSelected);
  rebuild();
}

AttentionPanel::~AttentionPanel() = default;

const findings::Finding* AttentionPanel::find(const std::string& identity) const {
  for (const auto& finding : document_.report()->findings)
    if (findings::identity(finding) == identity) return &finding;
  return nullptr;
}

std::string AttentionPanel::signature() const {
  const auto units = yard::settings(document_.shownYard()).units;
  std::string all = opened_ + (notWiredOpen_ ? "w" : "") + (leftOpen_ ? "l" : "");
  for (const auto& finding : document_.report()->findings)
    all += findings::identity(finding) + base::text(finding.sentence, units) + std::to_string(finding.used) +
           "\n";
  for (const auto& finding : document_.report()->left)
    all += findings::identity(finding) + finding.leftReason;
  for (const base::Id id : document_.report()->notWired)
    all += labelText(document_.shownYard(), id).toStdString();
  for (const auto& rule : openGroups_)
    all += rule + std::to_string(seenOf_.count(rule) ? seenOf_.at(rule) : 0);
  if (const auto it = remedies_.find(opened_); it != remedies_.end())
    all += it->second.proposal ? base::text(it->second.proposal->sentence, units) : std::string("none");
  return all;
}

void AttentionPanel::rebuild() {
  if (!opened_.empty() && !find(opened_)) opened_.clear();
  const std::string now = signature();
  if (list_ && now == shown_) return;
  shown_ = now;
  counts_->setText(countsText(*document_.report()));
  const int at = scroll_->verticalScrollBar()->value();
  std::string focused;
  const QWidget* holder = QApplication::focusWidget();  // not the one that last had it in here
  for (const auto& [identity, card] : cards_)
    if (holder && (card == holder || card->isAncestorOf(holder))) focused = identity;
  cards_.clear();
  if (QWidget* old = scroll_->takeWidget()) old->deleteLater();
  list_ = new QWidget;
  column_ = new QVBoxLayout(list_);
  column_->setContentsMargins(0, 0, 4, 0);
  column_->setSpacing(3);
  for (const auto& group : document_.report()->groups) addGroup(group);
  addNotWired();
  addLeft();
  column_->addStretch(1);
  scroll_->setWidget(list_);
  list_->show();
  markSelected();
  scroll_->verticalScrollBar()->setValue(at);
  if (const auto it = cards_.find(focused); it != cards_.end()) it->second->setFocus();
}

void AttentionPanel::addHead(const QString& name, const QString& text, bool* open) {
  auto* head = new QPushButton((*open ? QStringLiteral("▾ ") : QStringLiteral("▸ ")) + text, list_);
  head->setObjectName(name);
  head->setFlat(true);
  head->setStyleSheet(QStringLiteral("text-align: left"));
  connect(head, &QPushButton::clicked, this, [this, open] {
    *open = !*open;
    rebuild();
  });
  column_->addWidget(head);
}

void AttentionPanel::addGroup(const findings::Group& group) {
  const auto& findings = document_.report()->findings;
  if (group.findings.size() == 1) {
    addFinding(findings[group.findings.front()], false);
    return;
  }
  const bool open = openGroups_.contains(group.rule);
  auto* card = new Card(list_);
  card->setObjectName(QStringLiteral("finding_group"));
  const QString sentence = messageText(group.sentence, document_.shownYard());
  card->setAccessibleName(QStringLiteral("%1: %2").arg(severityWord(group.severity), sentence));
  auto* row = new QHBoxLayout(card);
  row->setContentsMargins(6, 4, 4, 4);
  row->addWidget(new SeverityMark(group.severity, card), 0, Qt::AlignTop);
  auto* column = new QVBoxLayout;
  column->setSpacing(2);
  row->addLayout(column, 1);
  column->addWidget(wrapped((open ? QStringLiteral("▾ ") : QStringLiteral("▸ ")) + sentence, card));
  const auto& worst = findings[group.findings.front()];
  auto* bar = new BarWidget(card);
  bar->setFigures(factText(worst.figure, document_.shownYard()), factText(worst.limit, document_.shownYard()),
                  worst.used);
  column->addWidget(bar);
  connect(card, &Card::pressed, this, [this, rule = group.rule] {
    if (!openGroups_.erase(rule)) openGroups_.insert(rule);
    QTimer::singleShot(0, this, &AttentionPanel::rebuild);
  });
  column_->addWidget(card);
  if (!open) return;
  const int seen = seenOf_.contains(group.rule) ? seenOf_[group.rule] : kFirstSeen;
  int listed = 0;
  for (const std::size_t index : group.findings) {
    const bool isOpened = findings::identity(findings[index]) == opened_;
    if (listed++ < seen || isOpened) addFinding(findings[index], true);
  }
  if (listed <= seen) return;
  auto* more = new QPushButton(tr("Show more of these (%1 of %2 shown)").arg(seen).arg(listed), list_);
  more->setObjectName(QStringLiteral("show_more"));
  connect(more, &QPushButton::clicked, this, [this, rule = group.rule, seen] {
    seenOf_[rule] = seen + kMoreSeen;
    QTimer::singleShot(0, this, &AttentionPanel::rebuild);
  });
  column_->addWidget(more);
}

void AttentionPanel::addFinding(const findings::Finding& finding, bool inGroup) {
  const std::string identity = findings::identity(finding);
  const QString sentence = messageText(finding.sentence, document_.shownYard());
  auto* card = new Card(list_);
  card->setObjectName(QStringLiteral("finding_card"));
  card->setProperty("identity", QString::fromStdString(identity));
  card->setAccessibleName(QStringLiteral("%1: %2").arg(severityWord(finding.severity), sentence));
  auto* row = new QHBoxLayout(card);
  row->setContentsMargins(inGroup ? 20 : 6, 4, 4, 4);
  row->addWidget(new SeverityMark(finding.severity, card), 0, Qt::AlignTop);
  auto* column = new QVBoxLayout;
  column->setSpacing(2);
  row->addLayout(column, 1);
  column->addWidget(wrapped(sentence, card));
  auto* bar = new BarWidget(card);
  bar->setFigures(factText(finding.figure, document_.shownYard()),
                  factText(finding.limit, document_.shownYard()), finding.used);
  column->addWidget(bar);
  if (identity == opened_) addDetails(finding, column);
  cards_[identity] = card;
  connect(card, &Card::pressed, this, [this, identity] {
    // Later: the card that was pressed is built anew.
    QTimer::singleShot(0, this, [this, identity] {
      if (const auto* found = find(identity)) select(*found);
      openFinding(identity);
    });
  });
  column_->addWidget(card);
}

namespace {

/// When it is so, in words.
QString conditionText(const std::string& condition) {
  if (condition == "one lost") return AttentionPanel::tr("when one is lost");
  if (condition == "fault") return AttentionPanel::tr("in a short circuit");
  return AttentionPanel::tr("at %1").arg(QString::fromStdString(condition));
}

}  // namespace

void AttentionPanel::addDetails(const findings::Finding& finding, QVBoxLayout* column) {
  const findings::Rule* rule = ruleOf(finding.rule);
  QStringList small{severityWord(finding.severity)};
  if (rule) small << QString::fromUtf8(rule->label);
  if (!finding.condition.empty()) small << conditionText(finding.condition);
  column->addWidget(wrapped(small.join(QStringLiteral(" · ")), list_, "second"));
  column->addWidget(wrapped(tr("Rule: %1").arg(QString::fromStdString(finding.source)), list_, "second"));
  if (!finding.assumed.empty()) {
    QStringList names;
    for (const base::Id id : finding.assumed) names << labelText(document_.shownYard(), id);
    column->addWidget(
        wrapped(tr("Rests on assumed figures of %1").arg(names.join(QStringLiteral(", "))), list_, "second"));
  }
  addRemedy(finding, column);
  auto* leave = new QPushButton(tr("Leave as is, because…"), list_);
  leave->setObjectName(QStringLiteral("leave_button"));
  connect(leave, &QPushButton::clicked, this, [this] {
    if (const auto* found = find(opened_)) leaveAsIs(findings::Finding(*found));
  });
  column->addWidget(leave, 0, Qt::AlignLeft);
}

void AttentionPanel::addRemedy(const findings::Finding& finding, QVBoxLayout* column) {
  const auto it = remedies_.find(opened_);
  const bool known = it != remedies_.end() && it->second.revision == document_.shownRevision();
  if (known && it->second.proposal) {
    const auto& proposal = *it->second.proposal;
    auto* button = new SentenceButton(messageText(proposal.sentence, document_.shownYard()), list_);
    button->setObjectName(QStringLiteral("remedy_button"));
    button->setAccessibleDescription(messageText(proposal.effect, document_.shownYard()));
    connect(button, &QPushButton::clicked, this, &AttentionPanel::applyRemedy);
    column->addWidget(button);
    if (!proposal.effect.key.empty())
      column->addWidget(wrapped(messageText(proposal.effect, document_.shownYard()), list_, "second"));
    return;
  }
  if (!known && !finding.remedyKey.empty()) {
    auto* looking = wrapped(tr("Looking for a remedy…"), list_, "second");
    looking->setObjectName(QStringLiteral("remedy_looking"));
    column->addWidget(looking);
    return;
  }
  if (!finding.advice.key.empty()) {
    auto* advice = wrapped(messageText(finding.advice, document_.shownYard()), list_);
    advice->setObjectName(QStringLiteral("advice"));
    column->addWidget(advice);
  }
}

void AttentionPanel::openFinding(const std::string& identity) {
  opened_ = identity;
  for (const auto& group : document_.report()->groups)
    for (const std::size_t index : group.findings)
      if (group.findings.size() > 1 && findings::identity(document_.report()->findings[index]) == identity)
        openGroups_.insert(group.rule);
  rebuild();
  lookForRemedy();
  if (const auto it = cards_.find(identity); it != cards_.end()) {
    it->second->setFocus();
    scroll_->ensureWidgetVisible(it->second, 0, 8);
  }
}

bool AttentionPanel::remedyKnown() const {
  const auto it = remedies_.find(opened_);
  return it != remedies_.end() && it->second.revision == document_.shownRevision();
}

void AttentionPanel::lookForRemedy() {
  const auto* finding = find(opened_);
  if (!finding || finding->remedyKey.empty() || document_.stale() || remedyKnown()) return;
  struct Search {
    assess::AssessmentPtr assessment;
    std::shared_ptr<const findings::Report> report;
    findings::Finding finding;
    std::int64_t revision;
    std::optional<propose::Proposal> found;
  };
  auto search = std::make_shared<Search>(
      Search{document_.assessment(), document_.report(), *finding, document_.shownRevision(), {}});
  background_.forget();  // only the finding that is open now matters
  background_.run(
      [search] { search->found = propose::remedy(search->assessment, *search->report, search->finding); },
      [this, search, identity = opened_] {
        remedies_[identity] = {search->revision, std::move(search->found)};
        if (search->revision != document_.shownRevision()) return;
        if (identity == opened_) {
          shown_.clear();
          rebuild();
        }
      });
}

void AttentionPanel::applyRemedy() {
  const auto it = remedies_.find(opened_);
  if (it == remedies_.end() || !it->second.proposal || !remedyKnown()) return;
  edit::Change change = it->second.proposal->change;
  document_.clearTentative();
  QTimer::singleShot(0, this, [this, change = std::move(change), revision = document_.shownRevision()] {
    if (revision == document_.shownRevision()) document_.commit(change);
  });
}

void AttentionPanel::leaveAsIs(const findings::Finding& finding) {
  const auto reason = askReason(window(), messageText(finding.sentence, document_.shownYard()));
  if (!reason) return;
  edit::Editor editor(document_.yard());
  yard::LeftAsIs left;
  left.rule = finding.rule;
  left.subjects = finding.subjects;
  left.condition = finding.condition;
  left.figure = base::roundedCount(finding.used * 1e6);
  left.reason = reason->toStdString();
  editor.add(std::move(left));
  const findings::Rule* rule = ruleOf(finding.rule);
  const QString step =
      tr("Leave as is: %1").arg(QString::fromUtf8(rule ? rule->label : finding.rule.c_str()));
  document_.commit(editor.finish(step.toStdString()));
}

void AttentionPanel::takeUpAgain(const findings::Finding& finding) {
  edit::Editor editor(document_.yard());
  for (const auto& [id, left] : yard::all<yard::LeftAsIs>(document_.yard()))
    if (left->rule == finding.rule && left->condition == finding.condition &&
        left->subjects == finding.subjects)
      editor.remove(id);
  const findings::Rule* rule = ruleOf(finding.rule);
  const QString step =
      tr("Take up again: %1").arg(QString::fromUtf8(rule ? rule->label : finding.rule.c_str()));
  document_.commit(editor.finish(step.toStdString()));
}

void AttentionPanel::addNotWired() {
  const auto& props = document_.report()->notWired;
  if (props.empty()) return;
  addHead(QStringLiteral("not_wired_head"), tr("Not wired yet (%1)").arg(props.size()), &notWiredOpen_);
  if (!notWiredOpen_) return;
  for (const base::Id id : props) {
    const auto left = document_.assessment()->unwired.find(id);
    QString words = labelText(document_.shownYard(), id);
    if (left != document_.assessment()->unwired.end()) words += tr(", %1 pixels").arg(left->second);
    auto* link = new QPushButton(words, list_);
    link->setObjectName(QStringLiteral("not_wired"));
    link->setProperty("look", QStringLiteral("link"));
    connect(link, &QPushButton::clicked, this, [this, id] {
      document_.selection().set({id});
      document_.selection().reveal();
    });
    column_->addWidget(link);
  }
}

void AttentionPanel::addLeft() {
  const auto& left = document_.report()->left;
  if (left.empty()) return;
  addHead(QStringLiteral("left_head"), tr("Left as is (%1)").arg(left.size()), &leftOpen_);
  if (!leftOpen_) return;
  for (const auto& finding : left) {
    column_->addWidget(wrapped(messageText(finding.sentence, document_.shownYard()), list_));
    column_->addWidget(
        wrapped(tr("Because: %1").arg(QString::fromStdString(finding.leftReason)), list_, "second"));
    auto* again = new QPushButton(tr("Take up again"), list_);
    again->setObjectName(QStringLiteral("take_up_again"));
    again->setAccessibleName(
        tr("Take up again: %1").arg(messageText(finding.sentence, document_.shownYard())));
    connect(again, &QPushButton::clicked, this,
            [this, finding] { QTimer::singleShot(0, this, [this, finding] { takeUpAgain(finding); }); });
    column_->addWidget(again, 0, Qt::AlignLeft);
  }
}

void AttentionPanel::select(const findings::Finding& finding) {
  selecting_ = true;
  Selection& selection = document_.selection();
  if (finding.prop && finding.pixel) {
    selection.setPixel(finding.prop, finding.pixel);
  } else if (finding.prop) {
    selection.set({finding.prop});
  } else if (!finding.subjects.empty()) {
    selection.set({finding.subjects.front()});
  }
  selection.reveal();
  selecting_ = false;
}

void AttentionPanel::markSelected() {
  const auto& ids = document_.selection().ids();
  Card* first = nullptr;
  for (const auto& finding : document_.report()->findings) {
    const std::string identity = findings::identity(finding);
    const auto it = cards_.find(identity);
    if (it == cards_.end()) continue;
    bool marked = ids.contains(finding.prop);
    for (const base::Id subject : finding.subjects) marked |= ids.contains(subject);
    it->second->setState(identity == opened_ ? "current" : marked ? "marked" : "plain");
    if (marked && !first) first = it->second;
  }
  if (first && !selecting_ && opened_.empty()) scroll_->ensureWidgetVisible(first, 0, 8);
}

}  // namespace yw::ui
