#include "ui/window/main_window.h"

#include <QApplication>
#include <QCloseEvent>
#include <QComboBox>
#include <QDockWidget>
#include <QFileDialog>
#include <QFileInfo>
#include <QLabel>
#include <QMenuBar>
#include <QMessageBox>
#include <QMimeData>
#include <QPushButton>
#include <QScreen>
#include <QScrollArea>
#include <QSettings>
#include <QStatusBar>
#include <QTabWidget>
#include <QTimer>
#include <QToolButton>
#include <QVBoxLayout>

#include "core/yard/labels.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/yard_view.h"
#include "ui/dialogs/gear_dialog.h"
#include "ui/fields/flow_layout.h"
#include "ui/fields/look.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/along_panel.h"
#include "ui/panels/attention_panel.h"
#include "ui/panels/changes_panel.h"
#include "ui/panels/edits.h"
#include "ui/panels/ideas/ideas_panel.h"
#include "ui/panels/item_panel.h"
#include "ui/panels/layers_panel.h"
#include "ui/panels/photo_panel.h"
#include "ui/panels/place_strip.h"
#include "ui/panels/run_chart.h"
#include "ui/panels/tables/tables_panel.h"
#include "ui/panels/totals_bar.h"

namespace yw::ui {

using base::Id;
using yard::RecordKind;

MainWindow::MainWindow() {
  setObjectName(QStringLiteral("mainWindow"));
  setAcceptDrops(true);
  const QSize room = screen()->availableSize();
  resize(std::min(1280, room.width()), std::min(800, room.height() - 30));  // 30: the frame round it
  document_.newYard();
  buildAreas();
  buildFileMenu();
  buildEditMenu();
  buildItemMenu();
  buildYardMenu();
  buildViewMenu();
  buildHandMenu();
  buildHelpMenu();
  connectViews();
  readSettings();
  refreshTitles();
  placeEmptyNote();
}

MainWindow::~MainWindow() = default;

CanvasView& MainWindow::view() {
  return drawings_->currentIndex() == 0 ? static_cast<CanvasView&>(*yard_)
                                        : static_cast<CanvasView&>(*front_);
}

// ---- areas

namespace {
QDockWidget* dock(MainWindow* window, const QString& title, const char* name, QWidget* widget,
                  Qt::DockWidgetArea area) {
  auto* made = new QDockWidget(title, window);
  made->setObjectName(QLatin1String(name));
  made->setWidget(widget);
  made->setFeatures(QDockWidget::DockWidgetClosable | QDockWidget::DockWidgetMovable);
  window->addDockWidget(area, made);
  return made;
}
}  // namespace

void MainWindow::buildAreas() {
  yard_ = new YardView(document_, this);
  front_ = new FrontView(document_, this);
  auto* frontPage = new QWidget(this);
  auto* frontColumn = new QVBoxLayout(frontPage);
  frontColumn->setContentsMargins(0, 0, 0, 0);
  auto* head = new FlowLayout;
  head->setContentsMargins(6, 4, 6, 0);
  walls_ = new QComboBox(this);
  walls_->setObjectName(QStringLiteral("wallChoice"));
  walls_->setAccessibleName(tr("Wall"));
  auto* wall = new QLabel(tr("Wall"), this);
  wall->setMinimumHeight(walls_->sizeHint().height());  // its words level with the choice
  head->addWidget(wall);
  head->addWidget(walls_);
  const auto& words = yard::words(yard::OpeningKind{});
  for (std::size_t i = 0; i < words.size(); ++i) {
    auto* button = new QPushButton(tr("Draw: %1").arg(QString::fromUtf8(words[i].label)), this);
    button->setObjectName(QStringLiteral("draw_%1").arg(QLatin1String(words[i].name)));
    connect(button, &QPushButton::clicked, this,
            [this, i] { front_->drawOpening(static_cast<yard::OpeningKind>(i)); });
    head->addWidget(button);
  }
  frontColumn->addLayout(head);
  frontColumn->addWidget(front_, 1);
  drawings_ = new QTabWidget(this);
  drawings_->setObjectName(QStringLiteral("drawings"));
  drawings_->setDocumentMode(true);
  drawings_->addTab(yard_, tr("Yard"));
  drawings_->addTab(frontPage, tr("House front"));
  auto* strip = new PlaceStrip(this);
  connectPlace(*strip);
  auto* totals = new TotalsBar(document_, this);
  connect(totals, &TotalsBar::partsAsked, this, [this] { showTables(QStringLiteral("parts")); });
  auto* center = new QWidget(this);
  auto* row = new QHBoxLayout;
  row->setContentsMargins(0, 0, 0, 0);
  row->setSpacing(0);
  row->addWidget(strip);
  row->addWidget(drawings_, 1);
  auto* column = new QVBoxLayout(center);
  column->setContentsMargins(0, 0, 0, 0);
  column->setSpacing(0);
  column->addLayout(row, 1);
  column->addWidget(totals);
  setCentralWidget(center);

  auto* attentive = new QWidget(this);
  attentive->setMinimumWidth(336);  // narrower, the forms below it are cut
  auto* heeded = new QVBoxLayout(attentive);
  heeded->setContentsMargins(0, 0, 0, 0);
  attention_ = new AttentionPanel(document_, attentive);
  auto* next = new NextStep(document_, attentive);
  heeded->addWidget(attention_, 1);
  heeded->addWidget(next);
  connect(next, &NextStep::asked, this, [this](NextStep::Step step) { takeStep(step); });
  item_ = new ItemPanel(document_, this);
  auto* along = new AlongPanel(document_, this);
  chart_ = along->chart();
  attentionDock_ = dock(this, tr("Needs attention"), "attentionDock", attentive, Qt::RightDockWidgetArea);
  itemDock_ = dock(this, tr("This item"), "itemDock", item_, Qt::RightDockWidgetArea);
  chartDock_ = dock(this, tr("Along the run"), "chartDock", along, Qt::BottomDockWidgetArea);
  auto* layers = new QScrollArea(this);
  layers->setWidgetResizable(true);
  layers->setFrameShape(QFrame::NoFrame);
  layers->setFocusPolicy(Qt::NoFocus);
  layers->setWidget(new LayersPanel({yard_, front_}, this));
  layersDock_ = dock(this, tr("Show, hide, hold still"), "layersDock", layers, Qt::RightDockWidgetArea);
  changesDock_ = dock(this, tr("Changes made"), "changesDock", new ChangesPanel(document_, this),
                      Qt::RightDockWidgetArea);
  tables_ = new TablesPanel(document_, this);
  tablesDock_ = dock(this, tr("Tables"), "tablesDock", tables_, Qt::BottomDockWidgetArea);
  ideas_ = new IdeasPanel(document_, this);
  ideasDock_ = dock(this, tr("Ideas"), "ideasDock", ideas_, Qt::BottomDockWidgetArea);
  tabifyDockWidget(chartDock_, tablesDock_);
  tabifyDockWidget(chartDock_, ideasDock_);
  auto* photo = new PhotoPanel(document_, this);
  connectPhoto(*photo);
  photoDock_ = dock(this, tr("Yard photo"), "photoDock", photo, Qt::RightDockWidgetArea);
  for (QDockWidget* one : {layersDock_, photoDock_, changesDock_}) tabifyDockWidget(itemDock_, one);
  itemDock_->raise();
  setCorner(Qt::BottomRightCorner, Qt::RightDockWidgetArea);
  resizeDocks({attentionDock_, itemDock_}, {360, 360}, Qt::Vertical);
  resizeDocks({attentionDock_}, {340}, Qt::Horizontal);
  resizeDocks({chartDock_}, {190}, Qt::Vertical);
  chartDock_->hide();
  tablesDock_->hide();
  ideasDock_->hide();
  photoDock_->hide();  // until there is a picture

  hint_ = new QLabel(this);
  chosen_ = new QLabel(this);
  pointer_ = new QLabel(this);
  zoom_ = new QLabel(this);
  hint_->setObjectName(QStringLiteral("statusHint"));
  pointer_->setObjectName(QStringLiteral("statusPointer"));
  hint_->setMinimumWidth(10);
  statusBar()->addWidget(hint_, 1);
  for (QLabel* label : {chosen_, pointer_, zoom_}) statusBar()->addPermanentWidget(label);

  auto* note = new QFrame(yard_->viewport());
  note->setObjectName(QStringLiteral("emptyNote"));
  note->setFrameShape(QFrame::Box);
  note->setAutoFillBackground(true);
  auto* lines = new QVBoxLayout(note);
  auto* what = new QLabel(tr("This yard is empty.\nAdd a picture of your yard and scale it, or draw the "
                             "house:\nthen place props and a box, and pull runs through them."),
                          note);
  auto* picture = new QPushButton(tr("Add a picture of the yard…"), note);
  auto* house = new QPushButton(tr("Draw the house"), note);
  auto* sample = new QPushButton(tr("Open a sample yard"), note);
  picture->setObjectName(QStringLiteral("emptyPicture"));
  house->setObjectName(QStringLiteral("emptyHouse"));
  sample->setObjectName(QStringLiteral("emptySample"));
  for (QWidget* w : std::initializer_list<QWidget*>{what, picture, house, sample}) lines->addWidget(w);
  connect(picture, &QPushButton::clicked, this,
          [this] { findChild<QAction*>(QStringLiteral("actionPicture"))->trigger(); });
  connect(house, &QPushButton::clicked, this, [this] { yard_->drawFeature(yard::FeatureKind::House); });
  connect(sample, &QPushButton::clicked, this, [this] { openSample(QStringLiteral("porch-and-lawn.yard")); });
  emptyNote_ = note;
  yard_->viewport()->installEventFilter(this);
}

bool MainWindow::eventFilter(QObject* watched, QEvent* event) {
  if (watched == yard_->viewport() && event->type() == QEvent::Resize)
    QMetaObject::invokeMethod(
        this, [this] { placeEmptyNote(); }, Qt::QueuedConnection);
  return QMainWindow::eventFilter(watched, event);
}

void MainWindow::takeStep(NextStep::Step step) {
  const auto trigger = [this](const char* action) { findChild<QAction*>(QLatin1String(action))->trigger(); };
  switch (step) {
    case NextStep::Step::None:
      return;
    case NextStep::Step::PlaceProps:
      return findChild<QToolButton*>(QStringLiteral("placeProps"))->click();
    case NextStep::Step::PlaceOutlet:
      return addGear(RecordKind::Outlet);
    case NextStep::Step::Propose:
      return trigger("actionProposals");
    case NextStep::Step::Save:
      save();
      return;
    case NextStep::Step::Print:
      return trigger("actionPrint");
  }
}

void MainWindow::placeEmptyNote() {
  if (!emptyNote_) return;
  const yard::Yard& yard = document_.yard();
  const bool empty = yard::all<yard::Prop>(yard).empty() && yard::all<yard::GroundFeature>(yard).empty() &&
                     yard::all<yard::Box>(yard).empty() && yard::site(yard).photo.empty();
  emptyNote_->setVisible(empty && yard_->selecting());
  emptyNote_->adjustSize();
  const QSize room = yard_->viewport()->size();
  emptyNote_->move((room.width() - emptyNote_->width()) / 2, (room.height() - emptyNote_->height()) / 2);
}

/// What to do next, or what was just done; the tip has it whole where the line is too narrow.
void MainWindow::setHint(const QString& text) {
  hint_->setText(text);
  hint_->setToolTip(text);
}

// ---- the views

void MainWindow::connectViews() {
  for (CanvasView* v : std::initializer_list<CanvasView*>{yard_, front_}) {
    connect(v, &CanvasView::statusChanged, this, &MainWindow::setHint);
    connect(v, &CanvasView::pointerMoved, pointer_, &QLabel::setText);
    connect(v, &CanvasView::zoomChanged, this, [this] { showZoom(); });
    connect(v, &CanvasView::editAsked, this, [this] {
      itemDock_->show();
      itemDock_->raise();
      item_->edit();
    });
    connect(v, &CanvasView::toolChanged, this, [this] { placeEmptyNote(); });
    connect(v, &CanvasView::findingClicked, this, [this](std::size_t index) {
      const auto report = document_.report();
      if (index < report->findings.size())
        attention_->openFinding(findings::identity(report->findings[index]));
      attentionDock_->show();
      view().setFocus();  // the hand is on the drawing: its keys stay there
    });
  }
  connect(item_, &ItemPanel::titleChanged, itemDock_, &QDockWidget::setWindowTitle);
  connect(item_, &ItemPanel::duplicateAsked, this, [this] { view().duplicateSelected(); });
  connect(item_, &ItemPanel::deleteAsked, this, [this] { view().removeSelected(); });
  connect(item_, &ItemPanel::turnAsked, this, [this] { view().turnSelected(base::toAngle(90)); });
  connect(item_, &ItemPanel::pullRunAsked, this, [this](Id id) { pullRun(id); });
  connect(item_, &ItemPanel::feedAsked, this, [this] {
    drawings_->setCurrentIndex(0);
    yard_->addFeed();
    yard_->setFocus();
  });
  connect(item_, &ItemPanel::chartAsked, this, [this] {
    chartDock_->show();
    chartDock_->raise();  // it was asked for: in front of the areas it shares its place with
  });
  connect(item_, &ItemPanel::wallAsked, this, [this](Id wall) { showWall(wall); });
  connect(chart_, &RunChart::runChanged, this, [this](Id run) {
    chartDock_->setWindowTitle(run ? tr("Along the run %1").arg(labelText(document_.yard(), run))
                                   : tr("Along the run"));
    // While a tool is in the hand the Yard must not move under it.
    const bool chosen = yard::find<yard::Run>(document_.yard(), document_.selection().single()) != nullptr;
    if (chosen && view().selecting()) chartDock_->show();
  });
  connect(&document_.selection(), &Selection::revealAsked, this, [this] { view().revealSelection(); });
  connect(&document_.selection(), &Selection::changed, this, [this] {
    const auto& ids = document_.selection().ids();
    chosen_->setText(ids.empty() ? QString() : nameOf(document_.yard(), ids));
  });
  connect(&document_, &Document::said, this, [this](const QString& text) {
    constexpr int kToldFor = 6000;  // ms, then what the tool wants next
    setHint(text);
    QTimer::singleShot(kToldFor, this, [this, text] {
      if (hint_->text() == text) setHint(view().tool().status());
    });
  });
  connect(&document_, &Document::historyChanged, this, [this] { refreshTitles(); });
  connect(&document_, &Document::fileChanged, this, [this] {
    refreshTitles();
    refillWalls();
  });
  connect(&document_, &Document::yardChanged, this, [this] {
    placeEmptyNote();
    refillWalls();
  });
  connect(walls_, &QComboBox::activated, this,
          [this](int index) { front_->setWall(Id{walls_->itemData(index).toLongLong()}); });
  connect(drawings_, &QTabWidget::currentChanged, this, [this](int index) {
    showZoom();
    if (index == 1 && front_->wall()) front_->setWall(front_->wall());  // fitted now that its size is known
    takeAlong(index == 1);
  });
  refillWalls();
}

namespace {
/// The wall with the most drawn and hung on it; none without walls.
Id busiestWall(const yard::Yard& yard) {
  Id best;
  std::size_t most = 0;
  for (const auto& [id, wall] : yard::all<yard::Wall>(yard)) {
    std::size_t count = wall->openings.size() + 1;
    for (const auto& [propId, prop] : yard::all<yard::Prop>(yard)) count += prop->wall == id ? 1 : 0;
    if (count > most) {
      most = count;
      best = id;
    }
  }
  return best;
}
}  // namespace

void MainWindow::showZoom() {
  const double pixels = std::max(std::abs(view().transform().m11()), 1e-9);  // a mm of yard
  zoom_->setText(tr("1 : %1").arg(qRound(96.0 / 25.4 / pixels)));
}

void MainWindow::refillWalls() {
  const auto walls = namedRecords(document_.yard(), {RecordKind::Wall});
  QStringList names;
  for (const auto& [id, name] : walls) names << name;
  bool same = walls_->count() == names.size();
  for (int i = 0; same && i < walls_->count(); ++i)
    same = walls_->itemText(i) == names[i] &&
           walls_->itemData(i).toLongLong() == walls[static_cast<std::size_t>(i)].first.value;
  if (same) return;
  walls_->clear();
  for (const auto& [id, name] : walls) walls_->addItem(name, static_cast<qlonglong>(id.value));
  if (!yard::find<yard::Wall>(document_.yard(), front_->wall()))
    front_->setWall(busiestWall(document_.yard()));
  for (int i = 0; i < walls_->count(); ++i)
    if (walls_->itemData(i).toLongLong() == front_->wall().value) walls_->setCurrentIndex(i);
}

void MainWindow::showWall(Id wall) {
  for (int i = 0; i < walls_->count(); ++i)
    if (walls_->itemData(i).toLongLong() == wall.value) walls_->setCurrentIndex(i);
  front_->setWall(wall);
  drawings_->setCurrentIndex(1);
}

/// Opens the tables at one of them, or (empty) as they were.
void MainWindow::showTables(const QString& name) {
  if (!name.isEmpty()) tables_->showTable(name);
  showBelow(tablesDock_);
  tables_->grid().setFocus();
}

/// Opens an area under the Yard, high enough to read in.
void MainWindow::showBelow(QDockWidget* area) {
  constexpr int kReadable = 250;
  const bool opened = !area->isVisible();
  area->show();
  area->raise();
  if (opened && area->height() < kReadable)
    resizeDocks({area}, {std::min(kReadable, height() / 3)}, Qt::Vertical);
}

void MainWindow::refreshTitles() {
  const auto* idea = yard::find<yard::Idea>(document_.yard(), edit::shownIdea(document_.yard()));
  const QString shown = idea ? tr("%1, idea: %2").arg(document_.title(), QString::fromStdString(idea->name))
                             : document_.title();
  setWindowTitle(tr("%1[*] · Yardwright").arg(shown));
  setWindowModified(!document_.isSaved());
  const auto& history = document_.history();
  undo_->setEnabled(history.canUndo());
  redo_->setEnabled(history.canRedo());
  undo_->setText(history.canUndo() ? tr("Undo %1").arg(QString::fromStdString(history.undoName()))
                                   : tr("Undo"));
  redo_->setText(history.canRedo() ? tr("Redo %1").arg(QString::fromStdString(history.redoName()))
                                   : tr("Redo"));
}

void MainWindow::setDusk(bool dusk) {
  const Theme::Look look = dusk ? Theme::Look::Dusk : Theme::Look::Light;
  setLook(look);
  yard_->setLook(look);
  front_->setLook(look);
}

void MainWindow::resizeEvent(QResizeEvent* event) {
  QMainWindow::resizeEvent(event);
  placeEmptyNote();
}

}  // namespace yw::ui
