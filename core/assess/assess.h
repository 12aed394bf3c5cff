#pragma once
#include <atomic>
#include <map>
#include <memory>
#include <mutex>
#include <vector>

#include "core/circuit/conditions.h"
#include "core/circuit/faults.h"
#include "core/circuit/fit.h"
#include "core/circuit/yard_network.h"
#include "core/data/data.h"
#include "core/routes/routes.h"
#include "core/takeoff/takeoff.h"
#include "core/yard/labels.h"
#include "core/yard/yard.h"

namespace yw::assess {

using base::Id;

/// The margins of an assessment: worked out when first asked for, by one thread; others wait.
class LazyMargins;

/// Everything that follows from a yard. Immutable once made; share it by pointer.
struct Assessment {
  yard::Yard yard;
  routes::Shapes shapes;
  std::map<Id, base::Error> shapeErrors;  ///< props whose sizes are refused, and why
  std::shared_ptr<const routes::Ground> ground;
  routes::Routes routes;
  circuit::Layouts layouts;
  circuit::Fit fit;   ///< what measured values say
  yard::Yard taught;  ///< the yard with their figures in it, which the circuit is computed from
  std::shared_ptr<LazyMargins> lazyMargins;
  std::shared_ptr<const circuit::YardNetwork> network;  ///< of the taught yard, with its loads at the limit
  circuit::Power limit;                                 ///< at the brightness limit
  circuit::Power fullWhite;
  data::Data data;
  takeoff::Totals totals;
  /// For each prop the (run, item) places it is wired in; a prop with unwired pixels is 'Not wired yet'.
  std::map<Id, std::vector<std::pair<Id, std::int64_t>>> wiredIn;
  /// Pixels of each prop that no run reaches.
  std::map<Id, std::int64_t> unwired;

  /// What is lost with each fuse, port and supply, and shorts behind them. Worked out when first asked for,
  /// by any thread; the everyday figures do not wait for it.
  const circuit::Faults& faults() const;
  /// Each color alone at the brightness limit; likewise when first asked for.
  const std::vector<circuit::ColorFigure>& colors() const;
  /// What people call each thing.
  std::string labelOf(Id id) const;

  struct Lazy {
    std::once_flag once, onceColors, onceLabels;
    circuit::Faults faults;
    std::vector<circuit::ColorFigure> colors;
    std::unique_ptr<yard::Labels> labels;
    std::atomic<bool> made{false};
    std::shared_ptr<Lazy> old;  ///< lends its parts until this one is made
  };
  std::shared_ptr<Lazy> lazy;
};
/// How sure each run is. Slow on a large yard: not part of the everyday figures.
const circuit::Margins& margins(const Assessment& a);
/// The same if it has been worked out already, else null.
const circuit::Margins* marginsIfKnown(const Assessment& a);
/// What a figure of the product, supply or wire rests on: measured values that taught it, else its own mark.
/// A supply's is that of its output volts.
yard::Origin originOf(const Assessment& a, Id productOrSupply);
using AssessmentPtr = std::shared_ptr<const Assessment>;

/// Runs the stages in order. `old` (may be null) lends the shapes, ground and ways whose inputs have not
/// changed; the answer is bit for bit the same with or without it (a property test).
AssessmentPtr assess(const yard::Yard& yard, const AssessmentPtr& old = nullptr);

}  // namespace yw::assess
