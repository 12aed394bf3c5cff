#pragma once
#include <QString>
#include <vector>

#include "ui/document/document.h"

namespace yw::ui {

/// A measured value that belongs to a run.
struct MeasuredOnRun {
  base::Id id;
  yard::Measurement value;
  std::int64_t place = 0;  ///< 1-based along the run; 0: at its port or at the fuse of one of its feeds
};
/// In the order of their places, those without one first.
std::vector<MeasuredOnRun> measuredOnRun(const assess::Assessment& assessment, const yard::Yard& yard,
                                         base::Id run);
/// At the supply's terminals or at one of its fuse positions.
std::vector<MeasuredOnRun> measuredOnSupply(const yard::Yard& yard, base::Id supply);

/// `Arch 1 pixel 24`, `K2-P05`.
QString terminalText(const yard::Yard& yard, const yard::Terminal& at);
/// `10.62 V and 1.2 A`, whichever of both was measured.
QString measuredText(const yard::Yard& yard, const yard::Measurement& value);

/// A place at which something can be measured.
struct MeasuringPlace {
  QString name;
  yard::Terminal at;
};
/// A pixel of the run, its port, and the fuse positions that feed it. `place` 0: no pixel.
std::vector<MeasuringPlace> measuringPlaces(const assess::Assessment& assessment, const yard::Yard& yard,
                                            base::Id run, std::int64_t place);
std::vector<MeasuringPlace> measuringPlaces(const yard::Yard& yard, base::Id supply);

/// Puts the value into the yard as one step, `Write down 10.62 V at Arch 1 pixel 24`.
void writeDown(Document& document, const yard::Measurement& value);
/// Asks for the value first; nothing is changed when the person thinks better of it.
void askAndWriteDown(QWidget* parent, Document& document, std::vector<MeasuringPlace> places);

}  // namespace yw::ui
