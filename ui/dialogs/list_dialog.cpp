#include "ui/dialogs/list_dialog.h"

#include <QComboBox>
#include <QDialogButtonBox>
#include <QFile>
#include <QFileDialog>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QLabel>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QVBoxLayout>
#include <map>

#include "ui/panels/edits.h"

namespace yw::ui {

using propose::ListColumn;

ListDialog::ListDialog(Document& document, QWidget* parent) : QDialog(parent), document_(document) {
  setObjectName(QStringLiteral("list_dialog"));
  setWindowTitle(tr("Last year's list"));
  resize(900, 640);
  auto* column = new QVBoxLayout(this);
  auto* row = new QHBoxLayout;
  auto* how = new QLabel(
      tr("Copy the list in your spreadsheet, with its line of headings, and paste it here."), this);
  how->setWordWrap(true);
  auto* open = new QPushButton(tr("Open a CSV file…"), this);
  unit_ = new QComboBox(this);
  unit_->setObjectName(QStringLiteral("list_unit"));
  unit_->setAccessibleName(tr("Leads without a unit are in"));
  const std::pair<QString, base::LengthUnit> units[] = {
      {tr("Leads in feet"), base::LengthUnit::Feet},
      {tr("Leads in meters"), base::LengthUnit::Metres},
      {tr("Leads in inches"), base::LengthUnit::Inches},
      {tr("Leads in centimeters"), base::LengthUnit::Centimetres}};
  for (const auto& [words, unit] : units) unit_->addItem(words, static_cast<int>(unit));
  if (yard::settings(document.yard()).units == base::UnitSystem::Metric) unit_->setCurrentIndex(1);
  row->addWidget(how, 1);
  row->addWidget(unit_);
  row->addWidget(open);
  column->addLayout(row);
  text_ = new QPlainTextEdit(this);
  text_->setObjectName(QStringLiteral("list_text"));
  text_->setAccessibleName(tr("The list"));
  text_->setMaximumHeight(130);
  text_->setTabChangesFocus(true);
  column->addWidget(text_);
  table_ = new QTableWidget(this);
  table_->setObjectName(QStringLiteral("list_table"));
  table_->setAccessibleName(tr("Rows of the list"));
  table_->setEditTriggers(QAbstractItemView::NoEditTriggers);
  table_->verticalHeader()->hide();
  table_->setWordWrap(true);
  column->addWidget(table_, 1);
  said_ = new QLabel(this);
  said_->setObjectName(QStringLiteral("list_said"));
  said_->setWordWrap(true);
  column->addWidget(said_);
  auto* buttons = new QDialogButtonBox(QDialogButtonBox::Cancel, this);
  take_ = buttons->addButton(tr("Take it in"), QDialogButtonBox::AcceptRole);
  take_->setObjectName(QStringLiteral("list_take"));
  column->addWidget(buttons);
  connect(open, &QPushButton::clicked, this, [this] { openFile(); });
  connect(text_, &QPlainTextEdit::textChanged, this, [this] { readText(); });
  connect(unit_, &QComboBox::activated, this, [this] { refresh(); });
  connect(buttons, &QDialogButtonBox::accepted, this, &ListDialog::accept);
  connect(buttons, &QDialogButtonBox::rejected, this, &QDialog::reject);
  readText();
}

void ListDialog::setText(const QString& text) { text_->setPlainText(text); }

void ListDialog::openFile() {
  const QString path =
      QFileDialog::getOpenFileName(this, tr("A list"), {}, tr("Tables (*.csv *.tsv *.txt);;All files (*)"));
  if (path.isEmpty()) return;
  QFile file(path);
  if (!file.open(QIODevice::ReadOnly)) {
    said_->setText(tr("%1: %2").arg(path, file.errorString()));
    return;
  }
  setText(QString::fromUtf8(file.readAll()));
}

void ListDialog::readText() {
  const auto list = propose::readList(text_->toPlainText().toStdString());
  list_ = list ? *list : propose::List{};
  columns_ = propose::proposedColumns(list_);
  fill();
  refresh();
  if (list) return;
  said_->setText(text_->toPlainText().trimmed().isEmpty() ? QString()
                                                          : errorText(list.error(), document_.yard()));
}

void ListDialog::setColumn(int column, ListColumn says) {
  // A meaning is given once: the other column that had it is left out.
  for (ListColumn& other : columns_)
    if (other == says && says != ListColumn::Ignored) other = ListColumn::Ignored;
  columns_[static_cast<std::size_t>(column)] = says;
  fill();
  refresh();
}

void ListDialog::fill() {
  table_->clear();
  const int columns = static_cast<int>(list_.headings.size());
  table_->setColumnCount(columns == 0 ? 0 : columns + 1);
  table_->setRowCount(columns == 0 ? 0 : static_cast<int>(list_.rows.size()) + 1);
  QStringList headings;
  for (const std::string& heading : list_.headings) headings << QString::fromStdString(heading);
  table_->setHorizontalHeaderLabels(headings << tr("What becomes of it"));
  for (int c = 0; c < columns; ++c) {
    auto* pick = new QComboBox(table_);
    pick->setObjectName(QStringLiteral("list_column_%1").arg(c));
    pick->setAccessibleName(tr("What column %1 says").arg(headings[c]));
    for (const std::string& word : propose::listColumnWords()) pick->addItem(QString::fromStdString(word));
    pick->setCurrentIndex(static_cast<int>(columns_[static_cast<std::size_t>(c)]));
    connect(
        pick, &QComboBox::activated, this,
        [this, c](int says) { setColumn(c, static_cast<ListColumn>(says)); }, Qt::QueuedConnection);
    table_->setCellWidget(0, c, pick);
    table_->setColumnWidth(c, 96);
  }
  for (std::size_t r = 0; r < list_.rows.size(); ++r)
    for (int c = 0; c < columns; ++c)
      table_->setItem(
          static_cast<int>(r) + 1, c,
          new QTableWidgetItem(QString::fromStdString(list_.rows[r].cells[static_cast<std::size_t>(c)])));
  table_->horizontalHeader()->setStretchLastSection(true);
}

void ListDialog::refresh() {
  taken_ = {};
  take_->setEnabled(false);
  if (list_.rows.empty()) return;
  const auto taken = propose::takeList(document_.yard(), list_, columns_,
                                       static_cast<base::LengthUnit>(unit_->currentData().toInt()));
  if (!taken) {
    said_->setText(errorText(taken.error(), document_.yard()));
    return;
  }
  taken_ = *taken;
  std::map<std::int64_t, QString> why;
  for (const propose::ListRefusal& row : taken_.refused) why[row.line] = errorText(row.why, document_.yard());
  const int last = table_->columnCount() - 1;
  for (std::size_t r = 0; r < list_.rows.size(); ++r) {
    const auto refused = why.find(list_.rows[r].line);
    auto* item = new QTableWidgetItem(refused == why.end() ? tr("taken") : tr("✗ %1").arg(refused->second));
    item->setToolTip(item->text());
    table_->setItem(static_cast<int>(r) + 1, last, item);
  }
  table_->resizeRowsToContents();
  QStringList said{messageText({"list_summary",
                                {{"props", taken_.props},
                                 {"runs", taken_.runs},
                                 {"leads", taken_.leads},
                                 {"refused", static_cast<std::int64_t>(taken_.refused.size())}}},
                               document_.yard())};
  for (const base::Message& note : taken_.notes)
    if (said.size() < 5) said << messageText(note, document_.yard());
  if (taken_.notes.size() > 4) said << tr("…and %1 more such.").arg(taken_.notes.size() - 4);
  said_->setText(said.join(u'\n'));
  take_->setEnabled(!taken_.change.empty());
}

void ListDialog::accept() {
  if (taken_.change.empty()) return;
  std::set<base::Id> props;
  for (const edit::Replacement& one : taken_.change.replacements)
    if (one.after && std::holds_alternative<yard::Prop>(*one.after)) props.insert(one.id);
  document_.commit(taken_.change);
  document_.selection().set(props);
  QDialog::accept();
}

}  // namespace yw::ui
