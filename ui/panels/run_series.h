#pragma once
// What chart and table read of one run, as the engine has it.
#include <QStringList>
#include <map>
#include <vector>

#include "core/assess/assess.h"

namespace yw::ui {

/// Figures of one run, place by place; `layout` null without figures. Lives as long as its assessment.
struct RunSeries {
  const circuit::RunLayout* layout = nullptr;
  const circuit::RunFigure* limit = nullptr;
  const circuit::RunFigure* full = nullptr;
  const circuit::Faults::Worst* lost = nullptr;  ///< with the one feed lost that hurts it most
  std::vector<double> needed;                    ///< V for true white; 0 where no product says
};
RunSeries seriesOf(const assess::Assessment* a, base::Id run);

/// The same figures as a table: place, prop, pixel, way, volts. Ways are in the yard's units.
class RunColumns {
 public:
  static constexpr int kCount = 9;
  RunColumns(assess::AssessmentPtr a, base::Id run);
  int rows() const;
  QStringList headings() const;
  /// A plain number or a name; empty where there is nothing to tell.
  QString text(int row, int column) const;
  /// By which a column is sorted; names are by text().
  double value(int row, int column) const;

 private:
  assess::AssessmentPtr a_;
  base::Id run_;
  RunSeries series_;
  std::map<std::int64_t, double> measured_;  ///< V by place
  bool metric_ = false;
};

}  // namespace yw::ui
