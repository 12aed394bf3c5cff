#include "core/file/json_scan.h"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace yw::file {
namespace {

/// Just past the string that begins at `at`.
std::size_t pastString(std::string_view json, std::size_t at) {
  for (++at; at < json.size() && json[at] != '"'; ++at)
    if (json[at] == '\\') ++at;
  return std::min(at + 1, json.size());
}

/// Just past the value that begins at `at`.
std::size_t pastValue(std::string_view json, std::size_t at) {
  if (json[at] == '"') return pastString(json, at);
  if (json[at] != '{' && json[at] != '[') return std::min(json.find_first_of(",]} \t\r\n", at), json.size());
  std::size_t depth = 0;
  while (at < json.size()) {
    if (json[at] == '"') {
      at = pastString(json, at);
      continue;
    }
    if (json[at] == '{' || json[at] == '[') ++depth;
    if (json[at] == '}' || json[at] == ']') --depth;
    ++at;
    if (depth == 0) break;
  }
  return at;
}

}  // namespace

std::size_t skipSpace(std::string_view json, std::size_t at) {
  return std::min(json.find_first_not_of(" \t\r\n", at), json.size());
}

std::int64_t lineOf(std::string_view text, std::size_t at) {
  return 1 + std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(std::min(at, text.size())),
                        '\n');
}

std::vector<Span> partsOf(std::string_view json, std::size_t at) {
  std::vector<Span> parts;
  const bool group = json[at] == '{';
  at = skipSpace(json, at + 1);
  while (at < json.size() && json[at] != '}' && json[at] != ']') {
    Span part{};
    if (group) {
      const std::size_t end = pastString(json, at);
      const auto key = nlohmann::json::parse(json.substr(at, end - at), nullptr, false);
      if (key.is_string()) part.key = key.get<std::string>();
      at = skipSpace(json, skipSpace(json, end) + 1);  // past the colon
    }
    part.begin = at;
    part.end = at < json.size() ? pastValue(json, at) : at;
    at = skipSpace(json, part.end);
    if (at < json.size() && json[at] == ',') at = skipSpace(json, at + 1);
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace yw::file
