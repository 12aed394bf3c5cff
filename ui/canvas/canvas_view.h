#pragma once
#include <QGraphicsView>
#include <QTimer>
#include <memory>
#include <optional>

#include "core/edit/change.h"
#include "ui/canvas/canvas_scene.h"
#include "ui/canvas/edits.h"
#include "ui/canvas/furniture.h"
#include "ui/canvas/labels.h"
#include "ui/canvas/look.h"
#include "ui/canvas/snapping/snapper.h"
#include "ui/canvas/tools/tool.h"

class QMenu;

namespace yw::ui {

/// How a rubber band takes things; by direction: rightward encloses (solid edge), leftward touches (dashed
/// edge).
enum class BandRule { ByDirection, Enclosed, Touched };

/// How what is selected is repeated.
enum class RepeatKind { Line, Grid, Circle, Mirror, Path };

/// What the Yard and the House front share: moving about, selecting, tools, labels, keys. Scene unit 1 mm, y
/// down.
///
/// Keys, with the view focused: arrows nudge what is selected (Shift ten steps, Alt one screen pixel) or pan;
/// Page Up/Down walk the props; Enter or F2 edits; Delete removes; Ctrl+D duplicates; R turns by 15°; Home
/// fits all, F the selection; T turns a wired prop round; S stops catching and takes it up again;
/// Ctrl+plus/minus zoom; Space-drag pans; Escape stops the gesture, then leaves the tool, then clears the
/// selection. Dropping `kPlaceMime` data places what it names.
class CanvasView : public QGraphicsView {
  Q_OBJECT
 public:
  CanvasView(Document& document, QWidget* parent);
  ~CanvasView() override;

  Document& document() const { return document_; }
  CanvasScene& canvas() const { return *canvas_; }
  const Look& look() const { return look_; }
  base::UnitSystem units() const;

  // ---- moving about
  double scaleNow() const { return look_.scale; }  ///< logical pixels a mm
  void zoomAt(double factor, QPointF viewport);
  void zoomIn();
  void zoomOut();
  void fitAll();
  /// What is seen now stays in view, and all there is comes into it.
  void widenToAll();
  void fitSelection();
  static constexpr double kMargin = 40.0;  ///< logical pixels
  /// `foot`: kept free below, beyond the margin.
  void fit(const QRectF& scene, double margin = kMargin, double foot = 0.0);
  /// Pans, without zooming, only if the selection is off-screen.
  void revealSelection();
  /// True (default): the wheel zooms and Ctrl+wheel too; false: the wheel pans.
  void setWheelZooms(bool zooms) { wheelZooms_ = zooms; }
  bool wheelZooms() const { return wheelZooms_; }
  /// Centers what is selected; what has no place of its own by the box it stands in.
  void centerSelection();
  QPointF toView(QPointF scene) const { return viewportTransform().map(scene); }
  QPointF toSceneExact(QPointF view) const { return viewportTransform().inverted().map(view); }

  // ---- how it looks
  void setColorBy(ColorBy question);
  ColorBy colorBy() const { return look_.colorBy; }
  void setLook(Theme::Look look);  ///< the window's own look comes by itself, with its palette
  void setLayerShown(Layer layer, bool shown);
  void setLayerHeld(Layer layer, bool held);
  bool layerShown(Layer layer) const { return look_.shows(layer); }
  bool layerHeld(Layer layer) const { return look_.holds(layer); }

  /// Colors flow to new values (false: they change at once, for those whom motion disturbs).
  void setMotion(bool motion) { canvas_->setMotion(motion); }

  // ---- how the hand is read
  void setBandRule(BandRule rule) { bandRule_ = rule; }
  BandRule bandRule() const { return bandRule_; }
  /// One arrow press; 0: 1 inch or 2 cm by the yard's units.
  void setNudgeStep(base::Length step) { nudgeStep_ = step; }
  base::Length nudgeStep() const { return nudgeStep_; }
  void setSnaps(bool snaps);
  bool snaps() const { return snaps_; }

  // ---- tools
  /// Takes a tool; null: back to selecting.
  void setTool(std::unique_ptr<Tool> tool);
  Tool& tool() const { return *tool_; }
  bool selecting() const { return selecting_; }

  void pullRun();  ///< from the selected run, port or box, else from the next click
  void startRun(base::Id port);
  void addFeed();
  void measure();
  /// The tool's next place by two tapes from two fixed points; while selecting, the place of the one thing
  /// that is selected.
  void placeByTapes();
  bool canPlaceByTapes() const;
  /// Puts a tool back that another lay over, as it was; `begins`: one that is to lie over another.
  void backToTool(std::unique_ptr<Tool> tool, bool begins = false);
  struct Tapes {
    std::vector<CatchPoint> points;  ///< the fixed points used last
    base::Length error{-1};          ///< of each tape; below zero: not said
  };
  Tapes& tapes() { return tapes_; }
  /// Repeats what is selected: in a line, a grid, round a circle, mirrored, or along a line of any shape.
  void repeatSelected(RepeatKind kind);

  // ---- what menus and keys do
  void removeSelected();
  void duplicateSelected();
  void turnSelected(base::Angle by);
  void holdSelected(bool hold);  ///< or lets props move again
  /// Data enters the selected props at their other ends; says what that does to reach and volts.
  void turnRoundSelected();
  void nudge(int x, int y, Qt::KeyboardModifiers modifiers, bool repeated);
  /// Selects the next prop in natural order (by = 1) or the one before (-1) and brings it into view.
  void walk(int by);
  void selectAll();
  void copySelected();
  void cutSelected();
  /// At the pointer if it is over the drawing, else in the middle of what is seen.
  void paste();
  void pasteAt(QPointF scene);

  // ---- what tools ask of the view
  /// Adds the move of records by a way on this view's plane.
  virtual void addMove(edit::Editor& editor, const std::set<base::Id>& ids, base::Point by) const = 0;
  /// Place of a record on this view's plane, if it can be dragged here.
  virtual std::optional<QPointF> placeHere(base::Id id) const = 0;
  virtual edits::Plane plane() const = 0;
  virtual bool canMoveHere(base::Id id) const = 0;
  virtual bool canTurnHere(base::Id id) const = 0;
  virtual std::vector<CatchPoint> catches(const std::set<base::Id>& without) const = 0;
  /// A snapper with the grid of this zoom and everything but `without`.
  Snapper snapper(const std::set<base::Id>& without = {}) const;
  static constexpr double kReach = 6.0;  ///< logical pixels within which the pointer touches something
  double reach() const { return kReach / look_.scale; }
  std::vector<base::Id> idsAt(QPointF scene, bool heldToo = false) const {
    return canvas_->idsAt(scene, reach(), heldToo);
  }
  /// The prop pixel under a place, if any.
  std::pair<base::Id, std::int64_t> pixelAt(QPointF scene) const;
  /// Remembers how far a copy was put, for Ctrl+D.
  void setCopyOffset(base::Point offset) { copyOffset_ = offset; }
  /// Finding whose sign stands at a place of the viewport.
  std::optional<std::size_t> findingAt(QPoint view) const;
  QPointF pointerScene() const { return pointerScene_; }

  /// Lays out labels and signs now (tests, screenshots).
  void settle();

  static constexpr const char* kPlaceMime = "application/x-yardwright-place";

 Q_SIGNALS:
  void toolChanged(const QString& name);  ///< empty: selecting
  void statusChanged(const QString& status);
  void pointerMoved(const QString& place);
  void zoomChanged(double pixelsPerMm);
  void editAsked();
  void snapsChanged(bool snaps);
  void findingClicked(std::size_t index);  ///< into Document::report()->findings
  void contextMenuBuilding(QMenu* menu);   ///< add what else can be done

 protected:
  void adopt(CanvasScene* scene);  ///< the derived view's scene, once
  Look& ownLook() { return look_; }
  virtual std::vector<LabelWish> labelWishes() const;
  virtual void occupy(QPainter& painter) const;  ///< what labels must not cover, viewport coordinates
  virtual Furniture furniture() const = 0;
  void addColorKey(Furniture& furniture) const;  ///< what the pixels' colors mean now
  virtual QPointF findingPlace(const findings::Finding& finding, bool& here) const = 0;
  virtual void place(const QByteArray& what, QPointF scene) = 0;
  virtual QString placeText(QPointF scene) const;
  /// Snapped signs of findings, worst of a spot on top.
  struct Sign {
    QPointF at;  ///< viewport
    QPointF scene;
    findings::Severity severity;
    std::size_t finding;
    int count;
  };
  const std::vector<Sign>& signsShown() const { return signs_; }
  virtual void buildMenu(QMenu& menu);
  /// Something that is no record (an opening) is selected here: its own Delete, nudge and the like. True:
  /// done.
  /// The tool that is there when no other is taken.
  virtual std::unique_ptr<Tool> selectTool();
  virtual bool removeHere() { return false; }
  virtual bool nudgeHere(base::Point, const std::string&) { return false; }
  virtual void clearHere() {}

  bool viewportEvent(QEvent* event) override;
  bool event(QEvent* event) override;
  void paintEvent(QPaintEvent* event) override;
  void resizeEvent(QResizeEvent* event) override;
  void showEvent(QShowEvent* event) override;
  void scrollContentsBy(int dx, int dy) override;
  void drawBackground(QPainter* painter, const QRectF& rect) override;
  void drawForeground(QPainter* painter, const QRectF& rect) override;
  void wheelEvent(QWheelEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mouseReleaseEvent(QMouseEvent* event) override;
  void mouseDoubleClickEvent(QMouseEvent* event) override;
  void leaveEvent(QEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void keyReleaseEvent(QKeyEvent* event) override;
  void changeEvent(QEvent* event) override;
  void focusInEvent(QFocusEvent* event) override;
  void focusOutEvent(QFocusEvent* event) override;
  void contextMenuEvent(QContextMenuEvent* event) override;
  void dragEnterEvent(QDragEnterEvent* event) override;
  void dragMoveEvent(QDragMoveEvent* event) override;
  void dropEvent(QDropEvent* event) override;
  bool focusNextPrevChild(bool next) override;

  void marksChanged();  ///< labels, signs or furniture may differ: laid out again soon

 private:
  void yardChanged();
  void assessed();
  void selectionChanged();
  void setScale(double scale);
  void anchor(QPointF scene, QPointF viewport);
  void centerOnExactly(QPointF scene);
  void layOutMarks();
  void layOutSigns();
  void openMenuAt(QPoint view, bool byMouse);
  void escape();
  bool startPan(QMouseEvent* event);
  ToolEvent toolEvent(const QMouseEvent& event) const;
  QString tipAt(QPoint view) const;
  bool handleKey(QKeyEvent& event);
  bool isHeld(const QKeyEvent& event) const;  ///< the key was down before this press

  Document& document_;
  Look look_;
  CanvasScene* canvas_ = nullptr;
  const edit::History* history_ = nullptr;  ///< of the yard that is shown
  std::unique_ptr<Tool> tool_;
  bool selecting_ = true;
  bool wheelZooms_ = true, snaps_ = true;
  BandRule bandRule_ = BandRule::ByDirection;
  base::Length nudgeStep_;
  base::Point copyOffset_{base::feet(2), base::Length{0}};
  int nudges_ = 0;
  int releasedKey_ = 0;
  quint64 releasedAt_ = 0;  ///< ms, as the event says
  bool fitted_ = false;
  struct Where {
    double scale = 0.0;
    int x = 0, y = 0;  ///< of the scroll bars
    bool operator==(const Where&) const = default;
  };
  Where whereItLooks() const;
  Where allShown_;  ///< where it looked when it was last made to show all
  QTimer marksTimer_;
  std::vector<PlacedLabel> labels_;
  std::vector<Sign> signs_;
  Furniture furniture_;
  std::optional<std::pair<QPointF, QPointF>>
      anchor_;  ///< scene place held under a viewport place while zooming
  bool spaceDown_ = false, panning_ = false;
  QPoint panFrom_;
  Tapes tapes_;
  QPointF pointerScene_, menuScene_;
};

}  // namespace yw::ui
