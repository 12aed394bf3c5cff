#pragma once
#include "core/file/yard_file.h"

namespace yw::file {

/// Larger files are refused: a yard with its pictures is a few megabytes.
inline constexpr std::int64_t kMostBytes = 200'000'000;

}  // namespace yw::file
