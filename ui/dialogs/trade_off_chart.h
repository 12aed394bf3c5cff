#pragma once
#include <QWidget>
#include <vector>

namespace yw::ui {

/// Cost of each choice as bars over each other, its words at the left, its figure at the bar's end. What the
/// yard has is marked by its words; what cannot be met or is not safe is hatched. Click or arrow picks one.
class TradeOffChart : public QWidget {
  Q_OBJECT
 public:
  struct Bar {
    QString choice, figure;
    double cost = 0.0;
    bool now = false;
    bool holds = true;  ///< every limit is met and nothing grave is left
  };
  explicit TradeOffChart(QWidget* parent = nullptr);
  void setBars(std::vector<Bar> bars);
  void setCurrent(int row);
  int current() const { return current_; }
  QSize sizeHint() const override;
  QSize minimumSizeHint() const override { return sizeHint(); }

 Q_SIGNALS:
  void picked(int row);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;

 private:
  std::vector<Bar> bars_;
  int current_ = -1;
};

}  // namespace yw::ui
