#pragma once
#include <string>

namespace yw::command {

/// `shapes --from FILE`: an own shape from a table of points or a drawing.
struct OwnOptions {
  std::string from, unit = "in", pitch, name, into;
  bool shortOrder = false;
};

/// Says what comes of it; with `into` adds it to that yard file. Gives the exit code.
int writeOwn(const OwnOptions& options, bool metric);

}  // namespace yw::command
