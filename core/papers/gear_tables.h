#pragma once
#include "core/papers/digest.h"
#include "core/papers/papers.h"

namespace yw::papers {

/// One box a row: where it is, what is in it, ports and fuse positions free, watts of heat.
Table boxesTable(const Digest& digest);
/// One controller or receiver a row: where it is, its ports and how many carry a run, pixels on it.
Table controllersTable(const Digest& digest);

}  // namespace yw::papers
