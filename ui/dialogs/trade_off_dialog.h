#pragma once
#include <QDialog>
#include <atomic>
#include <memory>

#include "core/propose/trade_offs.h"
#include "ui/document/document.h"
#include "ui/jobs/background.h"

class QComboBox;
class QLabel;
class QProgressBar;
class QPushButton;
class QTableWidget;

namespace yw::ui {

class TradeOffChart;

/// What a choice costs: the yard planned with each of its values beside the work, told in a table and a
/// chart; one of them can be taken, in one step.
class TradeOffDialog : public QDialog {
  Q_OBJECT
 public:
  TradeOffDialog(Document& document, QWidget* parent);
  ~TradeOffDialog() override;
  void workOut();
  bool working() const { return working_; }
  void reject() override;

 private:
  struct Job {
    assess::AssessmentPtr from;
    std::int64_t revision = 0;
    base::Id subject;
    const propose::TradeOff* what = nullptr;
    std::atomic<bool> stop{false};
    std::vector<propose::TradeOffRow> rows;
  };
  void setWorking(bool working);
  void clear(const QString& why);
  void begun(std::size_t line, std::size_t all);
  void finished(const std::shared_ptr<Job>& job);
  void showRows();
  void pick(int row);
  void take();

  Document& document_;
  Background background_;
  std::shared_ptr<Job> job_;
  std::vector<propose::TradeOffRow> rows_;
  std::int64_t rowsFor_ = -1;
  bool working_ = false, closing_ = false;
  QComboBox* what_;
  QLabel* said_;
  QProgressBar* progress_;
  QPushButton *workOut_, *stop_, *take_;
  QTableWidget* table_;
  TradeOffChart* chart_;
};

}  // namespace yw::ui
