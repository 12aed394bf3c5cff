#include "ui/dialogs/plan_dialog.h"

#include <QCheckBox>
#include <QDialogButtonBox>
#include <QGroupBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QScreen>
#include <QSignalBlocker>
#include <QStyledItemDelegate>
#include <QTreeWidget>
#include <QVBoxLayout>
#include <algorithm>

#include "core/findings/findings.h"
#include "core/yard/labels.h"

namespace yw::ui {

struct PlanDialog::Job {
  assess::AssessmentPtr from;
  std::set<std::string> wanted;
  propose::LeftOut leftOut;
  std::atomic<bool> stop{false};
  std::int64_t revision = 0;
  std::shared_ptr<const propose::WholePlan> made;
  findings::Report after;
};

namespace {

QString textOf(const base::Message& message, const yard::Yard& yard) {
  return QString::fromStdString(base::text(message, yard::settings(yard).units));
}

/// Of a step: what it is about, its part's key and its name for leaving it out.
constexpr int kSubject = Qt::UserRole, kPart = Qt::UserRole + 1, kName = Qt::UserRole + 2;

/// Rows as high as their whole text takes: a tree by itself wraps none.
class WholeText : public QStyledItemDelegate {
 public:
  explicit WholeText(QTreeWidget* tree) : QStyledItemDelegate(tree), tree_(tree) {}
  QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
    QStyleOptionViewItem item = option;
    initStyleOption(&item, index);
    const QStyle* style = tree_->style();
    const int margin = style->pixelMetric(QStyle::PM_FocusFrameHMargin, &item, tree_) + 1;
    int taken = tree_->indentation() * (index.parent().isValid() ? 2 : 1) + 2 * margin;
    if (item.features & QStyleOptionViewItem::HasCheckIndicator)
      taken += style->pixelMetric(QStyle::PM_IndicatorWidth, &item, tree_) + 2 * margin;
    const QRect room(0, 0, std::max(80, tree_->viewport()->width() - taken), 10'000);
    const QSize text = QFontMetrics(item.font).boundingRect(room, Qt::TextWordWrap, item.text).size();
    return {room.width(), std::max(24, text.height() + 6)};
  }

 private:
  QTreeWidget* tree_;
};

}  // namespace

PlanDialog::PlanDialog(Document& document, QWidget* parent) : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("planDialog"));
  setWindowTitle(tr("Proposals"));
  resize(860, std::min(840, screen()->availableGeometry().height() - 80));  // most of it for the steps
  auto* column = new QVBoxLayout(this);
  auto* what = new QGroupBox(tr("What may be planned (what you keep as is stays)"), this);
  auto* list = new QVBoxLayout(what);
  for (const propose::PlanPart& part : propose::planParts()) {
    auto* box = new QCheckBox(textOf({std::string("plan_part_") + part.key, {}}, document.yard()), what);
    box->setObjectName(QStringLiteral("planPart_") + QString::fromLatin1(part.key));
    // A box stands where a hand put it: moving it is asked for.
    box->setChecked(std::string_view(part.key) != "sites");
    box->setMinimumHeight(24);
    list->addWidget(box);
    parts_.push_back(box);
  }
  auto* row = new QHBoxLayout;
  workOut_ = new QPushButton(tr("Work it out"), this);
  workOut_->setObjectName(QStringLiteral("planWorkOut"));
  workOut_->setDefault(true);
  progress_ = new QProgressBar(this);
  progress_->setAccessibleName(tr("Parts worked out"));
  stop_ = new QPushButton(tr("Stop after this part"), this);
  stop_->setObjectName(QStringLiteral("planStop"));
  row->addWidget(workOut_);
  row->addWidget(progress_, 1);
  row->addWidget(stop_);
  said_ = new QLabel(this);
  said_->setObjectName(QStringLiteral("planSaid"));
  said_->setWordWrap(true);
  steps_ = new QTreeWidget(this);
  steps_->setObjectName(QStringLiteral("planSteps"));
  steps_->setAccessibleName(tr("What would be done, and why"));
  steps_->setHeaderHidden(true);
  steps_->setWordWrap(true);
  steps_->setUniformRowHeights(false);
  steps_->setItemDelegate(new WholeText(steps_));
  steps_->setTextElideMode(Qt::ElideNone);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
  take_ = buttons->addButton(tr("Do what is ticked"), QDialogButtonBox::ActionRole);
  take_->setObjectName(QStringLiteral("planTake"));
  column->addWidget(what);
  column->addLayout(row);
  column->addWidget(said_);
  column->addWidget(steps_, 1);
  column->addWidget(buttons);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(workOut_, &QPushButton::clicked, this, [this] { workOut(); });
  connect(stop_, &QPushButton::clicked, this, [this] { stopHere(); });
  connect(take_, &QPushButton::clicked, this, [this] { take(); });
  connect(steps_, &QTreeWidget::itemSelectionChanged, this, [this] {
    const auto chosen = steps_->selectedItems();
    const auto id = chosen.isEmpty() ? 0 : chosen.front()->data(0, kSubject).toLongLong();
    if (id == 0 || !document_.shownYard().records.contains(base::Id{id})) return;
    document_.selection().set({base::Id{id}});
    document_.selection().reveal();
  });
  connect(steps_, &QTreeWidget::itemChanged, this, [this](const QTreeWidgetItem* item) { ticked(item); });
  connect(&document, &Document::yardChanged, this, [this] {
    if (plan_) clearPlan(tr("The yard has changed since; work it out again."));
  });
  clearPlan(
      tr("Each part is planned on what the one above it leaves; a step that you untick is left out and the "
         "rest planned round it. Nothing changes until you say so."));
  setWorking(false);
}

PlanDialog::~PlanDialog() {
  if (job_) job_->stop = true;
}

void PlanDialog::setWorking(bool working) {
  working_ = working;
  workOut_->setEnabled(!working);
  stop_->setEnabled(working);
  progress_->setVisible(working);
  for (QCheckBox* part : parts_) part->setEnabled(!working);
}

void PlanDialog::clearPlan(const QString& why) {
  const QSignalBlocker quiet(steps_);
  plan_ = nullptr;
  steps_->clear();
  take_->setEnabled(false);
  said_->setText(why);
}

void PlanDialog::workOut() { run({}); }

void PlanDialog::ticked(const QTreeWidgetItem* item) {
  if (working_ || !plan_) return;
  propose::LeftOut leftOut = leftOut_;
  const std::pair<std::string, std::string> step{item->data(0, kPart).toString().toStdString(),
                                                 item->data(0, kName).toString().toStdString()};
  if (item->checkState(0) == Qt::Checked)
    leftOut.erase(step);
  else
    leftOut.insert(step);
  // Not from within the signal of an item that is then taken away.
  QMetaObject::invokeMethod(
      this, [this, leftOut] { run(leftOut); }, Qt::QueuedConnection);
}

void PlanDialog::run(propose::LeftOut leftOut) {
  if (working_) return;
  auto job = std::make_shared<Job>();
  job->leftOut = std::move(leftOut);
  const auto all = propose::planParts();
  for (std::size_t i = 0; i < parts_.size(); ++i)
    if (parts_[i]->isChecked()) job->wanted.insert(all[i].key);
  if (job->wanted.empty()) {
    clearPlan(tr("Nothing is ticked: choose at least one part to plan."));
    return;
  }
  document_.clearTentative();
  document_.settle();
  job->from = document_.assessment();
  job->revision = document_.shownRevision();
  job_ = job;
  clearPlan(tr("Working it out…"));
  progress_->setRange(0, static_cast<int>(job->wanted.size()));
  progress_->setValue(0);
  setWorking(true);
  background_.run(
      [this, job] {
        int part = 0;
        auto made = std::make_shared<propose::WholePlan>(propose::planWhole(
            job->from, job->wanted, job->stop,
            [this, &part](const propose::PlanPart&) {
              QMetaObject::invokeMethod(
                  this, [this, now = part++] { begun(now); }, Qt::QueuedConnection);
            },
            job->leftOut));
        job->after = findings::report(*made->after);
        job->made = std::move(made);
      },
      [this, job] { finished(job); });
}

void PlanDialog::resizeEvent(QResizeEvent* event) {
  QDialog::resizeEvent(event);
  if (steps_) steps_->doItemsLayout();  // its rows are as high as their text at this width
}

void PlanDialog::begun(int part) { progress_->setValue(part); }

void PlanDialog::stopHere() {
  if (!job_ || !working_) return;
  job_->stop = true;
  stop_->setEnabled(false);
  said_->setText(tr("Stopping once this part is done…"));
}

void PlanDialog::reject() {
  closing_ = working_;
  working_ ? stopHere() : QDialog::reject();
}

void PlanDialog::finished(const std::shared_ptr<Job>& job) {
  setWorking(false);
  if (closing_) return QDialog::reject();
  if (!job->made) {
    clearPlan(tr("It could not be worked out; please report this with the yard."));
    return;
  }
  if (job->revision != document_.shownRevision()) {
    clearPlan(tr("The yard has changed since; work it out again."));
    return;
  }
  plan_ = job->made;
  planFor_ = job->revision;
  leftOut_ = job->leftOut;
  for (const auto& one : plan_->unknown) leftOut_.erase(one);
  const QSignalBlocker quiet(steps_);
  for (const auto& made : plan_->parts) addPart(made);
  QStringList lines;
  if (plan_->stopped) lines << tr("Stopped: the parts below are whole, the later ones were not planned.");
  if (plan_->change.empty()) lines << tr("Nothing to better.");
  for (const auto severity :
       {findings::Severity::Danger, findings::Severity::WontWork, findings::Severity::CloseToLimit})
    lines << textOf({"plan_findings",
                     {{"severity", std::string(findings::label(severity))},
                      {"before", findings::countOf(*document_.report(), severity)},
                      {"after", findings::countOf(job->after, severity)}}},
                    document_.yard());
  lines << textOf({"plan_costs", {}}, document_.yard());
  said_->setText(lines.join(QLatin1Char('\n')));
  take_->setEnabled(!plan_->change.empty());
}

void PlanDialog::addPart(const propose::WholePlan::Made& made) {
  const yard::Yard& yard = document_.yard();
  auto* head = new QTreeWidgetItem(steps_, {textOf(propose::titleOf(made, yard), yard)});
  QFont bold = steps_->font();
  bold.setBold(true);
  head->setFont(0, bold);
  const auto add = [&](const propose::PlanStep& step) {
    auto* item = new QTreeWidgetItem(head, {textOf(step.reason, yard)});
    item->setData(0, kSubject, QVariant::fromValue<qlonglong>(step.subject.value));
    item->setToolTip(0, item->text(0));
    return item;
  };
  const auto addTick = [&](const propose::PlanStep& step, const std::string& name, bool done) {
    auto* item = add(step);
    if (name.empty()) return;
    item->setData(0, kPart, QString::fromLatin1(made.part->key));
    item->setData(0, kName, QString::fromStdString(name));
    item->setCheckState(0, done ? Qt::Checked : Qt::Unchecked);
  };
  for (const propose::PlanStep& step : made.plan.cannot) {
    auto* item = add(step);
    item->setText(0, textOf({"plan_cannot_title", {}}, yard) + QLatin1Char(' ') + item->text(0));
    item->setToolTip(0, item->text(0));
    item->setFont(0, bold);
  }
  for (const propose::PlanStep& step : made.plan.steps)
    addTick(step, step.subject ? yard::labelOf(plan_->after->yard, step.subject) : std::string(), true);
  for (const auto& [name, step] : made.leftOut) addTick(step, name, false);
  constexpr int kFew = 12;
  head->setExpanded(head->childCount() <= kFew || !made.plan.cannot.empty());
}

void PlanDialog::take() {
  if (!plan_ || planFor_ != document_.shownRevision()) return;
  edit::Change change = plan_->change;
  change.name = tr("Take the proposals").toStdString();
  plan_ = nullptr;
  document_.commit(std::move(change));
  accept();
}

}  // namespace yw::ui
