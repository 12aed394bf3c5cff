#pragma once
#include <optional>
#include <string>

#include "core/edit/change.h"
#include "core/findings/findings.h"

namespace yw::propose {

/// A change the person may accept, and why.
struct Proposal {
  edit::Change change;
  base::Message sentence;  ///< `Feed pixel 192 from K1, fuse position 4, 46 ft of 14 AWG`
  base::Message effect;    ///< what else comes of it: findings that are close to a limit; empty: nothing
};

/// A remedy for the finding, tried on a copy: offered only if it removes the finding and adds none as grave.
std::optional<Proposal> remedy(const assess::AssessmentPtr& assessment, const findings::Report& report,
                               const findings::Finding& finding);

/// A feed put by hand at a pixel: nearest box's free fuse position of the right voltage and the usual feed
/// wire.
std::optional<Proposal> feedAt(const assess::AssessmentPtr& assessment, base::Id run, std::int64_t runPixel);

}  // namespace yw::propose
