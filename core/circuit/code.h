#pragma once
// The electrical code as the yard's edition has it. Read in the 2017 and 2023 editions; 2020 from trade
// summaries. Local adoption varies: a planning check, never an approval.
#include <string>

#include "core/yard/records.h"

namespace yw::circuit {

enum class CodeRule {
  ContinuousLoad,  ///< 3 hours or more: 80 % of the breaker
  PlugInLoad,      ///< one plug-in load: 80 % of the circuit
  ReceptacleLoad,  ///< most on one receptacle
  CordAmpacity,    ///< flexible cord
  DropAdvice,      ///< 3 % on the branch: advice
  GroundFaultOutdoors,
};

/// Its section with the edition, and whether the figure is the same in the others: `NEC 2023 Table
/// 210.21(B)(2); the same in NEC 2017 and NEC 2020`.
std::string inCode(yard::CodeEdition edition, CodeRule rule);

/// `NEC 2023` put in front of the section where a source text begins with `NEC `; other texts as they are.
std::string inEdition(yard::CodeEdition edition, const std::string& source);

/// Outdoor receptacles that need GFCI protection: up to these volts and this breaker. 210.8(A)(3): 125 V, 15
/// and 20 A in 2017; from 2020 up to 250 V (on circuits of at most 150 V to ground), and 210.8(F) to 50 A.
struct GroundFaultScope {
  double volts = 0.0, breaker = 0.0;
};
GroundFaultScope groundFaultScope(yard::CodeEdition edition);

}  // namespace yw::circuit
