#pragma once
#include "core/edit/change.h"

// Gear as it is usually bought, so that what is added can be used at once; all of it is told in its form.
namespace yw::edit {

/// Gives a controller or receiver that many ports, 8 on a power section (common practice, no source), beside
/// those it has.
void addPorts(Editor& editor, Id owner, std::int64_t count);

/// A record of that kind with a free name; a controller with 16 ports, a receiver with 4. A supply,
/// controller or receiver goes into `box`; where none is named, into the only one there is.
Id addUsual(Editor& editor, yard::RecordKind kind, Id box = {});

/// The house circuit of an outlet or load that names none: the only one there is; where there is none, a new
/// one with the usual breaker. None where there are several: only the panel tells which.
Id usualCircuit(Editor& editor);

}  // namespace yw::edit
