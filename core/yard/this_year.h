#pragma once
#include "core/yard/yard.h"

namespace yw::yard {

/// A prop that does not stand this year: an idea, or one that rests. It is drawn, and nothing more.
inline bool rests(const Prop& prop) {
  return prop.status == PropStatus::Idea || prop.status == PropStatus::NotThisYear;
}

/// The yard as it is wired this year. Each stretch of a run over a prop that rests becomes an item of no
/// pixels, so that the run goes on past it by one jumper and every other item keeps its index; feeds and
/// other cables that end at such a prop are left out. Records that do not change are shared.
Yard thisYear(const Yard& yard);

}  // namespace yw::yard
