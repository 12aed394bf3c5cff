#pragma once
#include <QDialog>
#include <atomic>
#include <memory>

#include "core/propose/whole_plan.h"
#include "ui/document/document.h"
#include "ui/jobs/background.h"

class QCheckBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QTreeWidget;
class QTreeWidgetItem;

namespace yw::ui {

/// The planners of the whole yard: choose what may be planned, see what would be done, why, what it costs and
/// how near the best it is, leave steps out, and take the rest in one step.
class PlanDialog : public QDialog {
  Q_OBJECT
 public:
  PlanDialog(Document& document, QWidget* parent);
  ~PlanDialog() override;

  void workOut();
  void stopHere();
  void take();
  bool working() const { return working_; }
  /// While something is worked out: ends it first, so that the window never waits for it.
  void reject() override;

 protected:
  void resizeEvent(QResizeEvent* event) override;

 private:
  struct Job;
  void begun(int part);
  void finished(const std::shared_ptr<Job>& job);
  void addPart(const propose::WholePlan::Made& made);
  /// A step was ticked or unticked: everything is planned again round what is left out.
  void ticked(const QTreeWidgetItem* item);
  void run(propose::LeftOut leftOut);
  void clearPlan(const QString& why);
  void setWorking(bool working);

  Document& document_;
  std::vector<QCheckBox*> parts_;
  QPushButton *workOut_, *stop_, *take_;
  QProgressBar* progress_;
  QLabel* said_;
  QTreeWidget* steps_ = nullptr;
  std::shared_ptr<Job> job_;
  std::shared_ptr<const propose::WholePlan> plan_;  ///< what is shown; null: nothing to take
  propose::LeftOut leftOut_;                        ///< of what is shown
  std::int64_t planFor_ = 0;                        ///< revision of the yard it was made for
  bool working_ = false, closing_ = false;
  Background background_;
};

}  // namespace yw::ui
