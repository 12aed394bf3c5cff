#pragma once
// From what one has to sizes: "I have 300 pixels", "fill this port", "fit this span", "match my strips".
#include <optional>
#include <string>
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// What must not be exceeded. Strip: the longest piece of pixel strip it is cut from.
enum class Measure { Pixels, Width, Height, Depth, Strip };

/// Not a size of its own: the prop as large as so many hundredths of what it is. Drawn lines and paths about
/// their first point, and its lengths on the tape; pitches, holes, strip and what it stands on stay.
inline constexpr const char* kWholeSize = "whole_size";

struct FitRequest {
  yard::Prop prop;  ///< all other sizes and choices as they are
  Measure measure = Measure::Pixels;
  std::int64_t limit = 0;  ///< pixels, or nanometres
  std::string size;        ///< the size to solve, or kWholeSize; empty: one of fittingSizes(), for
                           ///< pixels the first that can, for a length the one that comes nearest
  base::UnitSystem units = base::UnitSystem::FeetInches;
};

/// The size that comes nearest to the limit without exceeding it, on the steps that a tape has: 1/16 in or
/// 1 mm, the holes of the mount, whole counts, whole degrees, thousandths.
struct Fit {
  yard::Prop prop;  ///< with the size that fits; by kWholeSize with all its lengths
  std::string size;
  std::int64_t value = 0;                   ///< of that size, stored units
  std::int64_t reached = 0;                 ///< pixels, or nanometres; never over the limit
  std::optional<std::int64_t> nextValue;    ///< one step further; none: the size is at the end of its range
  std::optional<std::int64_t> nextReached;  ///< over the limit; none: the next step is refused
  std::optional<base::Error> nextRefused;   ///< why, when the shape cannot be made there
};

/// Errors: a size that the measure does not follow, a limit that no value of the size keeps, a shape that
/// cannot be made as it stands.
base::Result<Fit> fit(const FitRequest& request);

/// Sizes of the prop that the measure follows, the pitch first, then in the order of the form; last
/// kWholeSize.
std::vector<std::string> fittingSizes(const yard::Prop& prop, Measure measure);

/// The size of that name, or kWholeSize; null: the prop has none such.
const SizeInfo* fittingSize(const yard::Prop& prop, const std::string& name);

/// So many pixels or so much room, as a shape has it.
std::int64_t measured(const Shape& shape, Measure measure);

/// `Pitch 2″: 300 pixels, 5′ wide, 7′ high.`, and what the next step would come to or why there is none.
base::Message answerOf(const Fit& fit, Measure measure);
base::Message nextStepOf(const Fit& fit, Measure measure);

/// The pitch (or `size`) at which `strips` strips carry at most `each` pixels. Only for kinds with a size
/// `strips`.
base::Result<Fit> matchStrips(const yard::Prop& prop, std::int64_t strips, std::int64_t each,
                              const std::string& size = "pitch",
                              base::UnitSystem units = base::UnitSystem::FeetInches);

/// How many pixels a port still takes: its controller's or receiver's pixels a port less those of its run.
base::Result<std::int64_t> roomOnPort(const yard::Yard& yard, yard::Id port);

}  // namespace yw::shapes
