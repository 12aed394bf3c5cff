#include "ui/dialogs/trade_off_dialog.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QProgressBar>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>

#include "core/base/number_text.h"
#include "ui/dialogs/trade_off_chart.h"
#include "ui/panels/edits.h"

namespace yw::ui {

namespace {

QString textOf(const base::Message& message, const yard::Yard& yard) {
  return QString::fromStdString(base::text(message, yard::settings(yard).units));
}

QString number(double value, int decimals) {
  return QString::fromStdString(base::numberText(value, decimals));
}

}  // namespace

TradeOffDialog::TradeOffDialog(Document& document, QWidget* parent) : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("tradeOffDialog"));
  setWindowTitle(tr("What a choice costs"));
  resize(900, 640);
  auto* column = new QVBoxLayout(this);
  auto* row = new QHBoxLayout;
  auto* label = new QLabel(tr("Choice"), this);
  what_ = new QComboBox(this);
  what_->setObjectName(QStringLiteral("tradeOffWhat"));
  label->setBuddy(what_);
  for (const propose::TradeOff& one : propose::tradeOffs())
    what_->addItem(textOf({std::string("trade_off_") + one.key, {}}, document.yard()),
                   QLatin1String(one.key));
  workOut_ = new QPushButton(tr("Work it out"), this);
  workOut_->setObjectName(QStringLiteral("tradeOffWorkOut"));
  workOut_->setDefault(true);
  stop_ = new QPushButton(tr("Stop after this line"), this);
  stop_->setObjectName(QStringLiteral("tradeOffStop"));
  progress_ = new QProgressBar(this);
  progress_->setAccessibleName(tr("Working it out"));
  progress_->setRange(0, 0);
  row->addWidget(label);
  row->addWidget(what_, 1);
  row->addWidget(workOut_);
  row->addWidget(progress_);
  row->addWidget(stop_);
  said_ = new QLabel(this);
  said_->setObjectName(QStringLiteral("tradeOffSaid"));
  said_->setWordWrap(true);
  table_ = new QTableWidget(this);
  table_->setObjectName(QStringLiteral("tradeOffTable"));
  table_->setAccessibleName(tr("What each choice takes"));
  table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  table_->setSelectionBehavior(QAbstractItemView::SelectRows);
  table_->setSelectionMode(QAbstractItemView::SingleSelection);
  table_->setTabKeyNavigation(false);
  table_->verticalHeader()->hide();
  chart_ = new TradeOffChart(this);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Close, this);
  take_ = buttons->addButton(tr("Take the marked one"), QDialogButtonBox::ActionRole);
  take_->setObjectName(QStringLiteral("tradeOffTake"));
  column->addLayout(row);
  column->addWidget(said_);
  column->addWidget(table_, 1);
  column->addWidget(chart_);
  column->addWidget(buttons);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  connect(workOut_, &QPushButton::clicked, this, [this] { workOut(); });
  connect(stop_, &QPushButton::clicked, this, [this] {
    if (job_) job_->stop = true;
    stop_->setEnabled(false);
  });
  connect(take_, &QPushButton::clicked, this, [this] { take(); });
  connect(table_, &QTableWidget::currentCellChanged, this, [this](int at) { pick(at); });
  connect(chart_, &TradeOffChart::picked, this, [this](int at) { table_->selectRow(at); });
  connect(what_, &QComboBox::currentIndexChanged, this, [this] {
    if (!working_) clear({});
  });
  connect(&document_, &Document::yardChanged, this, [this] {
    if (!rows_.empty()) clear(tr("The yard has changed since; work it out again."));
  });
  setWorking(false);
  clear({});
}

TradeOffDialog::~TradeOffDialog() {
  if (job_) job_->stop = true;
}

void TradeOffDialog::setWorking(bool working) {
  working_ = working;
  workOut_->setEnabled(!working);
  what_->setEnabled(!working);
  stop_->setVisible(working);
  stop_->setEnabled(working);
  progress_->setVisible(working);
}

void TradeOffDialog::clear(const QString& why) {
  rows_.clear();
  table_->setRowCount(0);
  chart_->setBars({});
  take_->setEnabled(false);
  said_->setText(why.isEmpty() ? textOf({"trade_off_how", {}}, document_.yard()) : why);
}

void TradeOffDialog::workOut() {
  if (working_) return;
  auto job = std::make_shared<Job>();
  job->what = propose::findTradeOff(what_->currentData().toString().toStdString());
  document_.clearTentative();
  document_.settle();
  job->from = document_.assessment();
  job->revision = document_.shownRevision();
  const base::Id chosen = document_.selection().single();
  if (yard::find<yard::Prop>(document_.yard(), chosen)) job->subject = chosen;
  job_ = job;
  clear(tr("Working it out…"));
  setWorking(true);
  background_.run(
      [this, job] {
        job->rows =
            job->what->rows(job->from, job->subject, job->stop, [this](std::size_t line, std::size_t all) {
              QMetaObject::invokeMethod(
                  this, [this, line, all] { begun(line, all); }, Qt::QueuedConnection);
            });
      },
      [this, job] { finished(job); });
}

void TradeOffDialog::begun(std::size_t line, std::size_t all) {
  if (!working_) return;
  progress_->setRange(0, static_cast<int>(all));
  progress_->setValue(static_cast<int>(line) - 1);
  said_->setText(tr("Working out line %1 of %2…").arg(line).arg(all));
}

void TradeOffDialog::reject() {
  closing_ = working_;
  if (!working_) return QDialog::reject();
  job_->stop = true;
  said_->setText(tr("Stopping once this line is done…"));
}

void TradeOffDialog::finished(const std::shared_ptr<Job>& job) {
  setWorking(false);
  if (closing_) return QDialog::reject();
  if (job->revision != document_.shownRevision())
    return clear(tr("The yard has changed since; work it out again."));
  rows_ = std::move(job->rows);
  rowsFor_ = job->revision;
  if (rows_.empty()) return clear(tr("There is nothing to choose here: no other pixel fits."));
  QStringList lines;
  if (job->stop) lines << tr("Stopped: the lines below are whole, the later ones were not planned.");
  for (const char* key : {"trade_off_how", "trade_off_now", "trade_off_costs"})
    lines << textOf({key, {}}, document_.yard());
  said_->setText(lines.join(QLatin1Char(' ')));
  showRows();
}

void TradeOffDialog::showRows() {
  const yard::Yard& yard = document_.yard();
  const bool metric = yard::settings(yard).units == base::UnitSystem::Metric;
  const QStringList heads{tr("Choice"),        tr("Boxes"),       tr("Ports"),
                          tr("Feeds"),         tr("Supplies"),    metric ? tr("Cables, m") : tr("Cables, ft"),
                          tr("Cost"),          tr("Supplied, A"), tr("House, A"),
                          tr("Cannot be met"), tr("Left")};
  table_->setColumnCount(static_cast<int>(heads.size()));
  table_->setHorizontalHeaderLabels(heads);
  table_->setRowCount(static_cast<int>(rows_.size()));
  std::vector<TradeOffChart::Bar> bars;
  int now = 0;
  for (int r = 0; r < static_cast<int>(rows_.size()); ++r) {
    const propose::TradeOffRow& row = rows_[static_cast<std::size_t>(r)];
    const QString choice = textOf(row.choice, yard) + (row.now ? QStringLiteral("*") : QString());
    const QString cost = QString::fromStdString(propose::money(yard, row.cost));
    const QStringList cells{choice,
                            QString::number(row.boxes),
                            QString::number(row.ports),
                            QString::number(row.feeds),
                            QString::number(row.supplies),
                            number(metric ? row.copper : row.copper / base::metres(base::feet(1)).si, 0),
                            cost,
                            number(row.amps, 1),
                            number(row.lineAmps, 1),
                            QString::number(row.cannot),
                            QString::number(row.grave)};
    for (int c = 0; c < static_cast<int>(cells.size()); ++c) {
      auto* item = new QTableWidgetItem(cells[c]);
      item->setTextAlignment((c == 0 ? Qt::AlignLeft : Qt::AlignRight) | Qt::AlignVCenter);
      table_->setItem(r, c, item);
    }
    bars.push_back({choice, cost, row.cost, row.now, row.cannot == 0 && row.grave == 0});
    if (row.now) now = r;
  }
  table_->resizeColumnsToContents();
  chart_->setBars(std::move(bars));
  table_->selectRow(now);
  pick(now);
}

void TradeOffDialog::pick(int row) {
  chart_->setCurrent(row);
  const bool known = row >= 0 && row < static_cast<int>(rows_.size());
  take_->setEnabled(known && !rows_[static_cast<std::size_t>(row)].change.empty());
}

void TradeOffDialog::take() {
  const int row = table_->currentRow();
  if (row < 0 || row >= static_cast<int>(rows_.size()) || rowsFor_ != document_.shownRevision()) return;
  edit::Change change = rows_[static_cast<std::size_t>(row)].change;
  change.name = tr("Take %1 with its wiring")
                    .arg(textOf(rows_[static_cast<std::size_t>(row)].choice, document_.yard()))
                    .toStdString();
  rows_.clear();
  document_.commit(std::move(change));
  accept();
}

}  // namespace yw::ui
