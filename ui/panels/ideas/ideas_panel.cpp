#include "ui/panels/ideas/ideas_panel.h"

#include <QApplication>
#include <QClipboard>
#include <QGridLayout>
#include <QHBoxLayout>
#include <QHeaderView>
#include <QInputDialog>
#include <QLabel>
#include <QListWidget>
#include <QMessageBox>
#include <QPushButton>
#include <QShortcut>
#include <QSignalBlocker>
#include <QSplitter>
#include <QVBoxLayout>

#include "core/file/ideas_in_file.h"
#include "ui/panels/edits.h"
#include "ui/panels/tables/tables_panel.h"

namespace yw::ui {

using base::Id;

namespace {

/// So long nothing must change before the ideas are computed anew.
constexpr int kQuietMilliseconds = 300;

QString nameOf(const yard::Yard& yard, Id id) {
  const auto* idea = yard::find<yard::Idea>(yard, id);
  return idea ? QString::fromStdString(idea->name) : IdeasPanel::tr("The yard");
}

void tell(QWidget* parent, const QString& title, const base::Error& error, const Document& document) {
  QMessageBox box(QMessageBox::NoIcon, title, errorText(error, document.yard()), QMessageBox::Ok, parent);
  box.setObjectName(QStringLiteral("ideaRefused"));
  box.exec();
}

bool isClash(const base::Error& error) {
  return QString::fromStdString(error.message.key).startsWith(QStringLiteral("idea_clash"));
}

/// Whose to keep; nothing: neither, leave all as it is.
std::optional<edit::OnClash> askWhose(QWidget* parent, const QString& refusal) {
  QMessageBox box(QMessageBox::Question, IdeasPanel::tr("The yard has changed below the idea"), refusal,
                  QMessageBox::NoButton, parent);
  box.setObjectName(QStringLiteral("ideaClash"));
  const auto* yards = box.addButton(IdeasPanel::tr("Keep the yard's"), QMessageBox::AcceptRole);
  const auto* ideas = box.addButton(IdeasPanel::tr("Keep the idea's"), QMessageBox::AcceptRole);
  auto* neither = box.addButton(IdeasPanel::tr("Leave it"), QMessageBox::RejectRole);
  box.setEscapeButton(neither);
  box.setDefaultButton(neither);
  box.exec();
  if (box.clickedButton() == yards) return edit::OnClash::KeepYards;
  if (box.clickedButton() == ideas) return edit::OnClash::KeepIdeas;
  return std::nullopt;
}

/// Commits what `change` gives, asking whose to keep where yard and idea disagree.
template <class F>
bool commitAsking(Document& document, Id idea, QWidget* parent, F change) {
  auto made = change(edit::OnClash::Refuse);
  if (!made && isClash(made.error())) {
    const auto whose = askWhose(parent, errorText(made.error(), document.yard()));
    if (!whose) return false;
    made = change(*whose);
  }
  made = file::wholeOrRefused(document.yard(), std::move(made), idea);
  if (!made) {
    tell(parent, IdeasPanel::tr("It cannot be shown"), made.error(), document);
    return false;
  }
  document.commit(*std::move(made));
  return true;
}

}  // namespace

bool showIdeaAsking(Document& document, Id idea, QWidget* parent) {
  document.clearTentative();
  return commitAsking(document, idea, parent,
                      [&](edit::OnClash onClash) { return edit::showIdea(document.yard(), idea, onClash); });
}

struct IdeasPanel::Job {
  yard::Yard yard;  ///< as committed
  std::map<Id, papers::Side> sides;
  std::map<Id, base::Error> refused;
  std::int64_t revision = 0;
  std::atomic<bool> stop{false};

  /// One idea (none: the yard itself) assessed; parts of its older figures are lent.
  void work(Id id, const QString& name) {
    const auto change = file::wholeOrRefused(yard, edit::showIdea(yard, id), id);
    if (!change) {
      refused.insert_or_assign(id, change.error());
      sides.erase(id);
      return;
    }
    auto& side = sides[id];
    side.name = name.toStdString();
    side.assessment = assess::assess(edit::apply(yard, *change), side.assessment);
    side.report = std::make_shared<const findings::Report>(findings::report(*side.assessment));
  }
};

IdeasPanel::IdeasPanel(Document& document, QWidget* parent) : QWidget(parent), document_(document) {
  setObjectName(QStringLiteral("ideasPanel"));
  auto* row = new QHBoxLayout(this);
  row->setContentsMargins(6, 4, 6, 4);
  auto* parts = new QSplitter(Qt::Horizontal, this);
  row->addWidget(parts);
  buildList();
  buildTables();
  quiet_.setSingleShot(true);
  quiet_.setInterval(kQuietMilliseconds);
  connect(&quiet_, &QTimer::timeout, this, [this] { start(); });
  connect(&document_, &Document::historyChanged, this, [this] { refill(); });
  connect(&document_, &Document::fileChanged, this, [this] {
    sides_.clear();
    refill();
  });
  connect(&document_, &Document::yardChanged, this, [this] {
    if (job_) job_->stop = true;
    tellState();
    quiet_.start();
  });
  refill();
}

IdeasPanel::~IdeasPanel() {
  if (job_) job_->stop = true;
  background_.wait();
}

void IdeasPanel::buildList() {
  auto* page = new QWidget(this);
  auto* column = new QVBoxLayout(page);
  column->setContentsMargins(0, 0, 4, 0);
  list_ = new QListWidget(page);
  list_->setObjectName(QStringLiteral("ideaList"));
  list_->setAccessibleName(tr("The yard and its ideas"));
  list_->setMinimumHeight(50);
  const auto button = [page](const QString& text, const char* name, const QString& tip) {
    auto* made = new QPushButton(text, page);
    made->setObjectName(QLatin1String(name));
    made->setToolTip(tip);
    return made;
  };
  make_ = button(tr("New idea…"), "ideaMake", tr("A named variant that begins as what is shown now"));
  show_ = button(tr("Show it"), "ideaShow", tr("Put this one on the Yard (Enter, double-click)"));
  rename_ = button(tr("Rename…"), "ideaRename", tr("Another name (F2)"));
  drop_ = button(tr("Drop it"), "ideaDrop", tr("Take this idea out; Undo brings it back"));
  adopt_ = button(tr("Make it the yard"), "ideaAdopt", tr("The yard becomes as this idea is"));
  column->addWidget(list_, 1);
  auto* two = new QGridLayout;
  two->setSpacing(4);
  two->addWidget(make_, 0, 0);
  two->addWidget(show_, 0, 1);
  two->addWidget(rename_, 1, 0);
  two->addWidget(drop_, 1, 1);
  two->addWidget(adopt_, 2, 0, 1, 2);
  column->addLayout(two);
  findChild<QSplitter*>()->addWidget(page);
  connect(make_, &QPushButton::clicked, this, [this] { makeIdea(); });
  connect(show_, &QPushButton::clicked, this, [this] { put(chosen()); });
  connect(rename_, &QPushButton::clicked, this, [this] { rename(); });
  connect(drop_, &QPushButton::clicked, this, [this] { drop(); });
  connect(adopt_, &QPushButton::clicked, this, [this] { adopt(); });
  connect(list_, &QListWidget::itemActivated, this, [this] { put(chosen()); });
  connect(list_, &QListWidget::currentRowChanged, this, [this] {
    tellState();
    showOtherwise();
  });
  auto* key = new QShortcut(QKeySequence(Qt::Key_F2), list_);
  key->setContext(Qt::WidgetShortcut);
  connect(key, &QShortcut::activated, this, [this] { rename(); });
}

namespace {

TableGrid* gridFor(TableModel* model, const char* name, const QString& label, QWidget* parent) {
  auto* grid = new TableGrid(parent);
  grid->setObjectName(QLatin1String(name));
  grid->setAccessibleName(label);
  grid->setModel(model);
  grid->setEditTriggers(QAbstractItemView::NoEditTriggers);
  grid->setSelectionBehavior(QAbstractItemView::SelectRows);
  grid->setTabKeyNavigation(false);
  grid->setWordWrap(false);
  grid->verticalHeader()->hide();
  grid->verticalHeader()->setDefaultSectionSize(22);
  grid->horizontalHeader()->setHighlightSections(false);
  grid->setMinimumHeight(50);
  QObject::connect(grid, &TableGrid::copyAsked, grid, [grid, model] {
    const auto rows = grid->selectedRows();
    QApplication::clipboard()->setText(
        QString::fromStdString(papers::tsv(rows.empty() ? model->shown() : model->shown(rows))));
  });
  return grid;
}

}  // namespace

void IdeasPanel::buildTables() {
  figures_ = new TableModel(this);
  otherwise_ = new TableModel(this);
  auto* parts = findChild<QSplitter*>();
  auto* left = new QWidget(this);
  auto* leftColumn = new QVBoxLayout(left);
  leftColumn->setContentsMargins(4, 0, 4, 0);
  said_ = new QLabel(left);
  said_->setObjectName(QStringLiteral("ideasSaid"));
  said_->setWordWrap(true);
  figuresGrid_ = gridFor(figures_, "ideaFigures", tr("Figures side by side"), left);
  leftColumn->addWidget(said_);
  leftColumn->addWidget(figuresGrid_, 1);
  auto* right = new QWidget(this);
  auto* rightColumn = new QVBoxLayout(right);
  rightColumn->setContentsMargins(4, 0, 0, 0);
  otherwiseHead_ = new QLabel(right);
  otherwiseHead_->setObjectName(QStringLiteral("otherwiseHead"));
  otherwiseGrid_ = gridFor(otherwise_, "ideaOtherwise", tr("What is otherwise"), right);
  rightColumn->addWidget(otherwiseHead_);
  rightColumn->addWidget(otherwiseGrid_, 1);
  parts->addWidget(left);
  parts->addWidget(right);
  parts->setStretchFactor(0, 2);
  parts->setStretchFactor(1, 4);
  parts->setStretchFactor(2, 3);
  connect(otherwiseGrid_->selectionModel(), &QItemSelectionModel::selectionChanged, this, [this] {
    std::set<Id> ids;
    for (const int row : otherwiseGrid_->selectedRows())
      if (const Id id = otherwise_->recordAt(row); document_.yard().records.contains(id)) ids.insert(id);
    if (ids.empty()) return;
    document_.selection().set(ids);
    document_.selection().reveal();
  });
}

const papers::Table& IdeasPanel::figures() const { return figures_->table(); }
const papers::Table& IdeasPanel::otherwise() const { return otherwise_->table(); }

// ---- the list

Id IdeasPanel::chosen() const {
  const auto* item = list_->currentItem();
  return item ? Id{item->data(Qt::UserRole).toLongLong()} : Id{};
}

void IdeasPanel::refill() {
  const Id before = chosen(), shown = edit::shownIdea(document_.yard());
  {
    const QSignalBlocker quiet(list_);
    list_->clear();
    std::vector<Id> ids{Id{}};
    for (const auto& [id, idea] : yard::all<yard::Idea>(document_.yard())) ids.push_back(id);
    for (const Id id : ids) {
      const QString name = nameOf(document_.yard(), id);
      auto* item = new QListWidgetItem(id == shown ? tr("%1 (shown)").arg(name) : name, list_);
      item->setData(Qt::UserRole, static_cast<qlonglong>(id.value));
      QFont font = item->font();
      font.setBold(id == shown);
      item->setFont(font);
      if (id == before) list_->setCurrentItem(item);
    }
    if (!list_->currentItem() || shown != lastShown_)
      for (int row = 0; row < list_->count(); ++row)
        if (list_->item(row)->data(Qt::UserRole).toLongLong() == shown.value) list_->setCurrentRow(row);
  }
  lastShown_ = shown;
  tellState();
  showOtherwise();
  quiet_.start();
}

void IdeasPanel::tellState() {
  const Id id = chosen(), shown = edit::shownIdea(document_.yard());
  show_->setEnabled(id != shown);
  for (QPushButton* one : {rename_, drop_, adopt_}) one->setEnabled(static_cast<bool>(id));
  figures_->setStale(!upToDate());
  for (QWidget* one : std::initializer_list<QWidget*>{figuresGrid_, otherwiseHead_, otherwiseGrid_})
    one->setVisible(list_->count() > 1);
  QStringList lines;
  if (list_->count() == 1)
    lines << tr(
        "An idea is a named variant of this yard: change what you like in it, put it beside the yard, "
        "then make it the yard or drop it. What you change in an idea stays in it.");
  else if (!upToDate())
    lines << tr("Computing…");
  for (const auto& [idea, error] : refused_)
    if (yard::find<yard::Idea>(document_.yard(), idea)) lines << errorText(error, document_.yard());
  said_->setText(lines.join(QLatin1Char('\n')));
  said_->setVisible(!lines.isEmpty());
}

bool IdeasPanel::commit(const base::Result<edit::Change>& change) {
  if (!change) {
    tell(this, tr("It cannot be done"), change.error(), document_);
    return false;
  }
  document_.clearTentative();
  document_.commit(*change);
  return true;
}

QString IdeasPanel::makeIdea(const QString& name) {
  auto change = edit::makeIdea(document_.yard(), name.toStdString());
  if (!change) return errorText(change.error(), document_.yard());
  commit(change);
  return {};
}

void IdeasPanel::makeIdea() {
  QString label = tr("What is otherwise in it, in a few words:");
  QString name;
  for (;;) {
    bool ok = false;
    name = QInputDialog::getText(this, tr("New idea"), label, QLineEdit::Normal, name, &ok);
    if (!ok) return;
    const QString refusal = makeIdea(name);
    if (refusal.isEmpty()) return;
    label = refusal;
  }
}

void IdeasPanel::put(Id idea) {
  if (idea != edit::shownIdea(document_.yard())) showIdeaAsking(document_, idea, this);
}

void IdeasPanel::rename() {
  const Id id = chosen();
  if (!id) return;
  bool ok = false;
  const QString name = QInputDialog::getText(this, tr("Rename the idea"), tr("Name:"), QLineEdit::Normal,
                                             nameOf(document_.yard(), id), &ok);
  if (ok) commit(edit::renameIdea(document_.yard(), id, name.toStdString()));
}

void IdeasPanel::drop() {
  const Id id = chosen();
  if (!id) return;
  const QString name = nameOf(document_.yard(), id);
  if (commit(edit::dropIdea(document_.yard(), id)))
    Q_EMIT document_.said(tr("The idea %1 was dropped; Undo brings it back.").arg(name));
}

void IdeasPanel::adopt() {
  const Id id = chosen();
  if (!id) return;
  document_.clearTentative();
  commitAsking(document_, id, this,
               [this, id](edit::OnClash onClash) { return edit::adoptIdea(document_.yard(), id, onClash); });
}

// ---- side by side

void IdeasPanel::showEvent(QShowEvent* event) {
  QWidget::showEvent(event);
  quiet_.start();
}

void IdeasPanel::start() {
  if (!isVisible() || upToDate()) return;
  if (job_) return;  // its end starts the next
  if (yard::all<yard::Idea>(document_.yard()).empty()) {
    made_ = document_.shownRevision();
    refused_.clear();
    sides_.clear();
    figures_->setTable({});
    showOtherwise();
    return tellState();
  }
  auto job = std::make_shared<Job>();
  job->yard = document_.yard();
  job->sides = sides_;
  job->revision = document_.shownRevision();
  std::vector<std::pair<Id, QString>> wanted{{Id{}, tr("The yard")}};
  for (const auto& [id, idea] : yard::all<yard::Idea>(document_.yard()))
    wanted.emplace_back(id, QString::fromStdString(idea->name));
  std::erase_if(job->sides, [&](const auto& side) {
    return std::none_of(wanted.begin(), wanted.end(),
                        [&](const auto& one) { return one.first == side.first; });
  });
  job_ = job;
  tellState();
  background_.run(
      [job, wanted] {
        for (const auto& [id, name] : wanted)
          if (!job->stop) job->work(id, name);
      },
      [this, job] { take(job); });
}

void IdeasPanel::take(const std::shared_ptr<Job>& job) {
  job_ = nullptr;
  if (job->stop || job->revision != document_.shownRevision()) {
    quiet_.start();
    return;
  }
  sides_ = job->sides;
  refused_ = job->refused;
  made_ = job->revision;
  std::vector<papers::Side> sides;
  for (const auto& [id, side] : sides_)
    if (side.report) sides.push_back(side);  // the yard itself first: its id is none
  figures_->setTable(sides.empty() ? papers::Table{} : papers::sideBySide(sides));
  figuresGrid_->resizeColumnsToContents();
  showOtherwise();
  tellState();
}

void IdeasPanel::showOtherwise() {
  const Id id = chosen() ? chosen() : edit::shownIdea(document_.yard());
  const auto yards = sides_.find(Id{}), idea = sides_.find(id);
  if (!id || yards == sides_.end() || idea == sides_.end()) {
    otherwise_->setTable({});
    otherwiseHead_->setText({});
    return;
  }
  otherwise_->setTable(papers::differences(yards->second, idea->second));
  otherwiseHead_->setText(
      tr("What %1 has otherwise: %2").arg(nameOf(document_.yard(), id)).arg(otherwise_->allRows()));
  otherwiseGrid_->resizeColumnsToContents();
}

}  // namespace yw::ui
