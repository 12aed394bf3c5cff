#pragma once
#include <QMainWindow>

#include "ui/document/document.h"
#include "ui/panels/next_step.h"

class QDockWidget;
class QLabel;
class QTabWidget;
class QComboBox;

namespace yw::ui {

class AttentionPanel;
class CanvasView;
class FrontView;
class IdeasPanel;
class ItemPanel;
class RunChart;
class TablesPanel;
class TotalsBar;
class YardView;

/// The window: the Yard and the House front, Place at the left, Needs attention above This item at the right,
/// Along the run sliding up from below, Running totals as one line under all.
class MainWindow : public QMainWindow {
  Q_OBJECT
 public:
  MainWindow();
  ~MainWindow() override;
  Document& document() { return document_; }
  YardView& yardView() { return *yard_; }
  FrontView& frontView() { return *front_; }

  /// Opens a yard file; on failure says why and keeps what is open.
  bool openFile(const QString& path);
  bool openSample(const QString& name);
  /// Offers what a killed program left; true if something was taken back.
  bool offerRecovery();
  bool save();
  bool saveAs();
  /// Stores the picture in the yard, under the Yard or under a wall, and begins scaling it.
  bool importPicture(const QString& path, base::Id wall = {});
  /// Asks which outlines of a drawing or map are taken, and as what.
  void bringOutlinesIn(const QString& path);

 protected:
  void closeEvent(QCloseEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dropEvent(QDropEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void buildFileMenu();
  void buildEditMenu();
  void buildItemMenu();
  void buildHandMenu();
  void buildYardMenu();
  void buildViewMenu();
  void buildHelpMenu();
  void buildAreas();
  void connectPlace(class PlaceStrip& strip);
  void connectViews();
  void takeAlong(bool toFront);
  void setHint(const QString& text);
  void connectPhoto(class PhotoPanel& panel);
  void choosePicture(base::Id wall);
  void showWall(base::Id wall);
  void refillWalls();
  void showTables(const QString& name);
  void showBelow(QDockWidget* area);
  void refreshTitles();
  void showZoom();
  void refillRecent();
  void remember(const QString& path);
  void addGear(yard::RecordKind kind);
  void placeProp(const QString& kind);
  void pullRun(base::Id portOrRun);
  void takeStep(NextStep::Step step);
  void placeEmptyNote();
  void find();
  void readSettings();
  void writeSettings();
  void setDusk(bool dusk);
  bool mayClose();
  void say(const QString& title, const QString& text);
  CanvasView& view();
  QAction* add(QMenu* menu, const QString& text, const QString& key, const char* name,
               std::function<void()> act);
  static QString samplesFolder();

  Document document_;
  YardView* yard_ = nullptr;
  FrontView* front_ = nullptr;
  QTabWidget* drawings_ = nullptr;
  QComboBox* walls_ = nullptr;
  AttentionPanel* attention_ = nullptr;
  ItemPanel* item_ = nullptr;
  RunChart* chart_ = nullptr;
  TablesPanel* tables_ = nullptr;
  IdeasPanel* ideas_ = nullptr;
  QDockWidget *attentionDock_ = nullptr, *itemDock_ = nullptr, *chartDock_ = nullptr, *layersDock_ = nullptr,
              *photoDock_ = nullptr, *changesDock_ = nullptr, *tablesDock_ = nullptr, *ideasDock_ = nullptr;
  QLabel *pointer_ = nullptr, *zoom_ = nullptr, *hint_ = nullptr, *chosen_ = nullptr;
  QWidget* emptyNote_ = nullptr;
  QAction *undo_ = nullptr, *redo_ = nullptr, *dusk_ = nullptr;
  QMenu *recent_ = nullptr, *viewMenu_ = nullptr;
};

}  // namespace yw::ui
