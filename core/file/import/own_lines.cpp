#include "core/file/import/own_lines.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <fstream>
#include <iterator>

namespace yw::file {
namespace {

constexpr double kFarthest = 300;  // metres

base::Error badInput(std::string key, std::map<std::string, base::Fact> facts = {}, std::string where = {}) {
  return {base::ErrorCode::Unreadable, {std::move(key), std::move(facts)}, std::move(where)};
}

std::string_view trimmedText(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '"'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t' || text.back() == '\r'))
    text.remove_suffix(1);
  return text;
}

/// The one of tab, semicolon and comma that parts the line; 0: none.
char parterOf(std::string_view line) {
  for (const char c : {'\t', ';', ','})
    if (line.find(c) != std::string_view::npos) return c;
  return 0;
}

base::Result<base::Point> pointOf(std::string_view line, base::LengthUnit unit) {
  const char parter = parterOf(line);
  const std::size_t at = parter ? line.find(parter) : std::string_view::npos;
  if (at == std::string_view::npos) return tl::unexpected(badInput("import_two_numbers"));
  std::string_view second = line.substr(at + 1);
  second = second.substr(0, second.find(parter));  // a third column is not ours
  const auto x = base::parseLength(trimmedText(line.substr(0, at)), unit);
  if (!x) return tl::unexpected(x.error());
  const auto y = base::parseLength(trimmedText(second), unit);
  if (!y) return tl::unexpected(y.error());
  return base::Point{*x, *y};
}

bool anyDigit(std::string_view text) {
  return std::any_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

}  // namespace

double metresIn(base::LengthUnit unit) {
  switch (unit) {
    case base::LengthUnit::Feet:
      return 0.3048;
    case base::LengthUnit::Inches:
      return 0.0254;
    case base::LengthUnit::Metres:
      return 1;
    case base::LengthUnit::Centimetres:
      return 0.01;
    case base::LengthUnit::Millimetres:
      break;
  }
  return 0.001;
}

std::vector<base::Vec2> arcPoints(base::Vec2 middle, double radius, double from, double to, double error) {
  // A piece over the angle a stays within r (1 - cos(a / 2)) of its arc.
  const double share = std::min(1.0, error / std::max(radius, error));
  const double most = std::max(0.02, 2 * std::acos(1 - share));
  const int pieces = std::max(2, static_cast<int>(std::ceil(std::abs(to - from) / most)));
  std::vector<base::Vec2> points;
  for (int i = 0; i <= pieces; ++i) {
    const double a = from + (to - from) * i / pieces;
    points.push_back(middle + base::Vec2{radius * std::cos(a), radius * std::sin(a)});
  }
  return points;
}

yard::OwnLine ownLine(const std::vector<base::Vec2>& metres, bool closed) {
  yard::OwnLine line;
  line.closed = closed;
  for (const base::Vec2 p : metres)
    if (const base::Point at = base::point(p); line.points.empty() || line.points.back() != at)
      line.points.push_back(at);
  constexpr double kSame = 1e-5;  // drawings close to a hundredth of a millimetre
  if (line.points.size() > 3 && base::distance(metres.front(), metres.back()) < kSame) {
    line.points.pop_back();
    line.closed = true;
  }
  return line;
}

bool readNumber(std::string_view text, double& value) {
  text = trimmedText(text);
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
  return !text.empty() && read.ec == std::errc() && read.ptr == text.data() + text.size() &&
         std::isfinite(value);
}

base::Result<OwnLines> checkedLines(OwnLines lines) {
  std::size_t points = 0;
  for (const yard::OwnLine& line : lines.lines) {
    points += line.points.size();
    for (const base::Point p : line.points)
      if (std::max(std::abs(base::vec(p).x), std::abs(base::vec(p).y)) > kFarthest)
        return tl::unexpected(badInput("import_too_far", {{"most", base::toLength({kFarthest})}}));
  }
  if (points == 0) return tl::unexpected(badInput("import_nothing_in_it"));
  if (points > kMostPoints)
    return tl::unexpected(badInput(
        "import_too_many_points",
        {{"count", static_cast<std::int64_t>(points)}, {"most", static_cast<std::int64_t>(kMostPoints)}}));
  return lines;
}

base::Result<OwnLines> readCsvPoints(const std::string& bytes, base::LengthUnit unit) {
  OwnLines out;
  bool fresh = true;
  std::int64_t number = 0;
  std::string_view rest = bytes;
  if (rest.starts_with("\xEF\xBB\xBF")) rest.remove_prefix(3);
  while (!rest.empty()) {
    const std::size_t end = rest.find('\n');
    const std::string_view line = trimmedText(rest.substr(0, end));
    rest.remove_prefix(end == std::string_view::npos ? rest.size() : end + 1);
    ++number;
    if (line.empty()) {
      fresh = true;
      continue;
    }
    if (number == 1 && !anyDigit(line)) continue;  // heads
    const auto point = pointOf(line, unit);
    if (!point) {
      base::Error error = point.error();
      error.code = base::ErrorCode::Unreadable;
      error.where = "line " + std::to_string(number);
      return tl::unexpected(error);
    }
    if (fresh) out.lines.emplace_back().dots = true;
    fresh = false;
    out.lines.back().points.push_back(*point);
  }
  return checkedLines(std::move(out));
}

base::Result<OwnLines> readOwnLines(const std::string& path, base::LengthUnit unit) {
  std::ifstream file(path, std::ios::binary);
  if (!file) return tl::unexpected(badInput("import_cannot_read", {{"path", path}}));
  const std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  std::string ending = path.substr(std::min(path.size(), path.rfind('.')));
  for (char& c : ending) c = static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c);
  if (ending == ".svg") return readSvg(bytes);
  if (ending == ".dxf") return readDxf(bytes, unit);
  if (ending == ".csv" || ending == ".txt" || ending == ".tsv") return readCsvPoints(bytes, unit);
  return tl::unexpected(badInput("import_unknown_ending", {{"path", path}}));
}

}  // namespace yw::file
