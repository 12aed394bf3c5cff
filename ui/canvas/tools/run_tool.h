#pragma once
#include <QTimer>
#include <optional>

#include "ui/canvas/tools/run_step.h"
#include "ui/canvas/tools/tool.h"

namespace yw::ui {

/// Pulls a run from a port through props. Resting on a prop shows what would follow, by the engine itself on
/// a copy of the yard; a click does it, one step a prop. R enters at the other end, Backspace takes back,
/// Enter ends. Drawn over props with the button held, it shows them wired, with reach and volts, and adds
/// them in one step when let go.
class RunTool : public Tool {
  Q_OBJECT
 public:
  /// From that run or port; both none: from what is selected, else from the first click.
  explicit RunTool(CanvasView& view, base::Id run = {}, base::Id port = {});
  QString name() const override;
  QString status() const override;
  void start() override;
  void press(const ToolEvent& event) override;
  void doubleClick(const ToolEvent&) override {}
  void move(const ToolEvent& event) override;
  bool key(QKeyEvent& event) override;
  void release(const ToolEvent& event) override;
  bool stop() override;
  void paint(QPainter& painter) override;
  void yardChanged() override;
  void historyMoved() override;

  base::Id run() const { return run_; }
  base::Id port() const { return port_; }
  /// What is written beside the pointer now.
  QStringList note() const;

 private:
  void startAtBox(base::Id box);
  void look();     ///< works out the step for the hovered prop
  void foresee();  ///< and assesses it, a moment later
  void takeBack();
  void sweep(base::Id prop);  ///< the hand was drawn over it, the button held
  base::Id propAt(QPointF scene) const;
  base::Id boxAt(QPointF scene) const;
  QStringList outcome() const;

  base::Id run_, port_;
  base::Id hovered_;
  std::optional<bool> turned_;
  std::int64_t lookedAt_ = -1;  ///< revision of the yard that step_ is for
  RunStep step_;
  assess::AssessmentPtr then_;          ///< the yard as it would be
  std::vector<std::size_t> positions_;  ///< of the history after each of our steps
  QTimer soon_;
  QString complaint_;
  ToolEvent last_;
  bool held_ = false;            ///< the button, since a press here
  std::vector<base::Id> swept_;  ///< props the hand was drawn over, to be added when it lets go
  edit::Change sweptChange_;
  base::Id sweptRun_;
  assess::AssessmentPtr before_;
};

}  // namespace yw::ui
