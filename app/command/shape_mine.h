#pragma once
#include <string>

namespace yw::command {

/// `shapes --mine`, `--keep NAME --yard FILE`, `--put NAME --into FILE`: the person's own props.
struct MineOptions {
  bool list = false;
  std::string keep, put, yard, into;
};

/// Gives the exit code.
int runMine(const MineOptions& options);

}  // namespace yw::command
