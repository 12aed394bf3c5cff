#pragma once
#include <functional>

#include "ui/canvas/canvas_view.h"
#include "ui/canvas/front_scene.h"

namespace yw::ui {

/// House front: one wall face-on. Openings are drawn on it, wall props are placed and moved on it.
class FrontView : public CanvasView {
  Q_OBJECT
 public:
  explicit FrontView(Document& document, QWidget* parent = nullptr);

  /// Shows that wall; none: an empty sheet, as when the wall is deleted.
  void setWall(base::Id wall);
  base::Id wall() const { return front().wall(); }

  void drawOpening(
      yard::OpeningKind kind);          ///< drag a rectangle, click for the usual size, or type the sizes
  void scalePhoto(bool check = false);  ///< of the picture of the wall
  void placeProp(const std::string& kind);
  void placeGear(yard::RecordKind kind);  ///< Box, Outlet

  /// Openings are no records: the view keeps which one is selected (-1: none).
  int opening() const { return opening_; }
  void selectOpening(int index);
  int openingAt(QPointF scene) const;  ///< -1: none
  /// Commits the selected wall's openings, changed.
  void changeOpenings(const char* step, const std::function<void(std::vector<yard::Opening>&)>& change,
                      const std::string& mergeKey = {});
  edit::Change openingsChange(const char* step,
                              const std::function<void(std::vector<yard::Opening>&)>& change) const;
  const yard::Wall* wallRecord() const;

  void addMove(edit::Editor& editor, const std::set<base::Id>& ids, base::Point by) const override;
  std::optional<QPointF> placeHere(base::Id id) const override;
  edits::Plane plane() const override { return edits::Plane::Face; }
  bool canMoveHere(base::Id id) const override;
  bool canTurnHere(base::Id) const override { return false; }
  std::vector<CatchPoint> catches(const std::set<base::Id>& without) const override;

 Q_SIGNALS:
  void wallChanged(yw::base::Id wall);
  void openingSelected(int index);

 protected:
  Furniture furniture() const override;
  QPointF findingPlace(const findings::Finding& finding, bool& here) const override;
  void place(const QByteArray& what, QPointF scene) override;
  std::unique_ptr<Tool> selectTool() override;
  bool removeHere() override;
  bool nudgeHere(base::Point by, const std::string& key) override;
  void clearHere() override { selectOpening(-1); }

 private:
  FrontScene& front() const { return static_cast<FrontScene&>(canvas()); }
  void followWalls();
  int opening_ = -1;
};

}  // namespace yw::ui
