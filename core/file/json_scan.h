#pragma once
// Where things stand in a text that is known to be valid JSON.
#include <string>
#include <string_view>
#include <vector>

namespace yw::file {

struct Span {
  std::string key;  ///< of a member; empty for an element of a list
  std::size_t begin, end;
};

/// Members of the group or elements of the list that begins at `at` (at its bracket).
std::vector<Span> partsOf(std::string_view json, std::size_t at);

/// First place from `at` on that is not white space.
std::size_t skipSpace(std::string_view json, std::size_t at);

/// 1-based line of a place.
std::int64_t lineOf(std::string_view text, std::size_t at);

}  // namespace yw::file
