#pragma once
#include <string>
#include <vector>

namespace yw::command {

/// `propose FILE --list LIST`: last year's list into a yard.
struct ListOptions {
  std::string from, yard, to, unit = "ft";
  std::vector<std::string> columns;
};

/// Says what is taken and which rows are left out, and why; writes the yard to `to`. Exit 1: a row is left
/// out.
int takeLastYear(const ListOptions& options);

}  // namespace yw::command
