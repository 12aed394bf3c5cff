#pragma once
// One step of pulling a run through props: which pixels it takes, from which end, and where a full port cuts
// it.
#include <optional>

#include "core/assess/assess.h"
#include "core/edit/change.h"

namespace yw::ui {

struct RunStep {
  edit::Change change;  ///< empty: it cannot be done, `refusal` says why
  base::Message refusal;
  base::Id run;  ///< the run after the change
  base::Id prop;
  yard::Range range{1, 0};    ///< pixels of the prop it takes
  bool reversed = false;      ///< data enters at the last of them
  std::int64_t item = 0;      ///< index into the run's items
  std::int64_t before = 0;    ///< pixel places on the run before it
  std::int64_t limit = 0;     ///< most places of port and frame rate; 0: no limit known
  std::int64_t leftOver = 0;  ///< pixels of the prop that did not fit and wait for another port
  std::int64_t after() const { return before + range.last - range.first + 1; }
};

/// What adding `prop` to `run` would do. `run` none: a new run on `port` (none: not plugged in yet). The
/// nearest free end is entered unless `reversed` says which.
RunStep nextRunStep(const assess::Assessment& a, base::Id run, base::Id port, base::Id prop,
                    std::optional<bool> reversed = std::nullopt);

/// Pixel ranges of a prop that no run reaches, in string order.
std::vector<yard::Range> freeRanges(const assess::Assessment& a, base::Id prop);
/// The box's next port without a run, in the order of controllers, receivers and port numbers; none: all
/// taken.
base::Id nextFreePort(const yard::Yard& yard, base::Id box);
/// Most pixel places by the frame rate of every product on the run and of `prop`, and by the port's owner; 0:
/// no limit known.
std::int64_t mostPlaces(const assess::Assessment& a, const yard::Run& run, base::Id prop);
/// Pixel places a run takes on its port.
std::int64_t placesOf(const assess::Assessment& a, const yard::Run& run);

}  // namespace yw::ui
