#pragma once
#include <QWidget>

#include "ui/document/document.h"

class QPainter;

namespace yw::ui {

/// Along the run: volts at every pixel of the selected run, at the brightness limit, at full white and with
/// the one feed lost that hurts it most, over the length of its wire; what its products need, its props,
/// joints and feeds are marked. Reading anywhere gives the nearest pixel; a click selects it on the Yard;
/// arrows, Page, Home and End walk.
class RunChart : public QWidget {
  Q_OBJECT
 public:
  explicit RunChart(Document& document, QWidget* parent = nullptr);
  /// The run that is shown; none: nothing selected is part of a run.
  base::Id run() const { return run_; }
  /// 1-based place the reading stands at; 0: none.
  std::int64_t reading() const { return reading_; }
  void setReading(std::int64_t place);
  /// Reads there and points at that pixel on the Yard, brought into view.
  void select(std::int64_t place);
  /// All pixels as tab-separated text, units in the headings (see RunColumns).
  QString tsv() const;
  QString readingText() const;
  void copyText() const;
  void copyPicture();
  /// Asks for what was measured at the reading, or at the lowest pixel.
  void measureHere();
  QSize minimumSizeHint() const override { return {180, 130}; }
  QSize sizeHint() const override { return {700, 190}; }

 Q_SIGNALS:
  void runChanged(yw::base::Id run);
  void readingChanged(std::int64_t place);

 protected:
  void paintEvent(QPaintEvent* event) override;
  void mouseMoveEvent(QMouseEvent* event) override;
  void mousePressEvent(QMouseEvent* event) override;
  void leaveEvent(QEvent* event) override;
  void keyPressEvent(QKeyEvent* event) override;
  void changeEvent(QEvent* event) override;
  void contextMenuEvent(QContextMenuEvent* event) override;

 private:
  struct Scale {
    QRectF plot;
    double length = 1.0, low = 0.0, high = 1.0, step = 1.0;
    double x(double along) const { return plot.left() + plot.width() * along / length; }
    double y(double volts) const { return plot.bottom() - plot.height() * (volts - low) / (high - low); }
  };
  void follow();
  Scale scale() const;
  void paintAxes(QPainter& painter, const Scale& s) const;
  void paintMarks(QPainter& painter, const Scale& s) const;
  void paintJoints(QPainter& painter, const Scale& s) const;
  void paintNeeded(QPainter& painter, const Scale& s) const;
  void paintCurve(QPainter& painter, const Scale& s, const std::vector<double>& volts, double width,
                  Qt::PenStyle style) const;
  void paintNames(QPainter& painter, const Scale& s) const;
  void paintMeasured(QPainter& painter, const Scale& s) const;
  std::int64_t placeAt(double x) const;

  Document& document_;
  base::Id run_;
  std::int64_t reading_ = 0;
};

}  // namespace yw::ui
