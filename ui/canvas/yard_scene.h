#pragma once
#include "ui/canvas/canvas_scene.h"

namespace yw::ui {

/// The plan: everything of the yard seen from above.
class YardScene : public CanvasScene {
  Q_OBJECT
 public:
  using CanvasScene::CanvasScene;
  void syncYard() override;
  void syncAssessment() override;

 private:
  void syncRecord(base::Id id, const yard::Record& record);
  void syncProp(base::Id id, const yard::Prop& prop);
};

}  // namespace yw::ui
