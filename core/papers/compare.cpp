#include "core/papers/compare.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>

#include "core/base/number_text.h"
#include "core/papers/digest.h"
#include "core/papers/words.h"
#include "core/yard/codec.h"
#include "core/yard/field_value.h"

namespace yw::papers {
namespace {

using Json = nlohmann::ordered_json;
using findings::Severity;

/// The pixel that keeps the least of its own volts.
struct Lowest {
  double volts = 0.0, part = 0.0;
  Id run;
};

Lowest lowestOf(const Assessment& a) {
  Lowest lowest;
  for (const auto& [id, figure] : a.limit.runs) {
    const auto layout = a.layouts.find(id);
    if (figure.lowestPixel == 0 || layout == a.layouts.end()) continue;
    const Id propId = layout->second->pixels[static_cast<std::size_t>(figure.lowestPixel - 1)].prop;
    const auto* prop = yard::find<yard::Prop>(a.yard, propId);
    const yard::Product* product = prop == nullptr ? nullptr : yard::productOf(a.yard, *prop);
    if (product == nullptr || product->voltage.count <= 0) continue;
    const double part = figure.lowestVolts / base::volts(product->voltage).si;
    if (!lowest.run || part < lowest.part) lowest = {figure.lowestVolts, part, id};
  }
  return lowest;
}

template <class Map>
double ampsOf(const Map& supplies) {
  double amps = 0.0;
  for (const auto& [id, figure] : supplies) amps += figure.amps;
  return amps;
}

template <class R>
double howMany(const Assessment& a) {
  return static_cast<double>(yard::all<R>(a.yard).size());
}

std::int64_t toBuy(const takeoff::PartLine& line) {
  return line.strings > 0 ? line.strings : std::max<std::int64_t>(0, line.count - line.owned);
}

bool isToBuy(const takeoff::PartLine& line) { return toBuy(line) > 0 || line.length.count > 0; }

template <class F>
double partsWhere(const Assessment& a, F wanted) {
  const auto& parts = a.totals.parts;
  return static_cast<double>(std::count_if(parts.begin(), parts.end(), wanted));
}

/// One line of the figures: a number, or (no number) words.
struct Line {
  const char* key;
  std::string unit;
  int decimals;
  std::function<std::optional<double>(const Side&)> figure;
  std::function<std::string(const Side&)> words = {};
};

std::vector<Line> countLines() {
  const auto count = [](const char* key, auto figure) {
    return Line{key, "", 0, [figure](const Side& s) -> std::optional<double> {
                  return static_cast<double>(figure(*s.assessment));
                }};
  };
  return {
      count("props", [](const Assessment& a) { return a.totals.props; }),
      count("pixels", [](const Assessment& a) { return a.totals.pixels; }),
      count("runs", [](const Assessment& a) { return a.totals.runs; }),
      count("feeds", [](const Assessment& a) { return a.totals.feeds; }),
      count("supplies", [](const Assessment& a) { return a.totals.supplies; }),
      count("boxes", [](const Assessment& a) { return howMany<yard::Box>(a); }),
      count("boards",
            [](const Assessment& a) { return howMany<yard::Controller>(a) + howMany<yard::Receiver>(a); }),
      count("ports", [](const Assessment& a) { return a.totals.ports; }),
      count("ports_free", [](const Assessment& a) { return a.totals.portsFree; }),
      count("leads", [](const Assessment& a) { return a.totals.leads; })};
}

std::vector<Line> figureLines(const Assessment& first) {
  const bool metric = yard::settings(first.yard).units == base::UnitSystem::Metric;
  const std::string money = yard::settings(first.yard).currency;
  std::vector<Line> lines = countLines();
  lines.push_back({"amps_limit", "A", 1, [](const Side& s) { return ampsOf(s.assessment->limit.supplies); }});
  lines.push_back(
      {"amps_full", "A", 1, [](const Side& s) { return ampsOf(s.assessment->fullWhite.supplies); }});
  lines.push_back({"lowest_volts", "V", 2, [](const Side& s) -> std::optional<double> {
                     const Lowest l = lowestOf(*s.assessment);
                     return l.run ? std::optional(l.volts) : std::nullopt;
                   }});
  lines.push_back({"lowest_part", "%", 1, [](const Side& s) -> std::optional<double> {
                     const Lowest l = lowestOf(*s.assessment);
                     return l.run ? std::optional(l.part * 100.0) : std::nullopt;
                   }});
  lines.push_back({"lowest_run", "", 0, [](const Side&) { return std::optional<double>{}; },
                   [](const Side& s) {
                     const Id run = lowestOf(*s.assessment).run;
                     return run ? s.assessment->labelOf(run) : std::string{};
                   }});
  lines.push_back({"wire", metric ? "m" : "ft", 0, [metric](const Side& s) {
                     const double m = base::metres(s.assessment->totals.leadLength).si;
                     return std::optional(metric ? m : m / 0.3048);
                   }});
  lines.push_back({"parts_to_buy", "", 0,
                   [](const Side& s) { return std::optional(partsWhere(*s.assessment, isToBuy)); }});
  lines.push_back({"parts_without_price", "", 0, [](const Side& s) {
                     return std::optional(partsWhere(*s.assessment, [](const takeoff::PartLine& line) {
                       return isToBuy(line) && !line.priced;
                     }));
                   }});
  lines.push_back({"cost", money, 2, [](const Side& s) -> std::optional<double> {
                     const takeoff::Totals& t = s.assessment->totals;
                     if (t.cost.count == 0 && !t.costComplete)
                       return std::nullopt;  // nothing has a price yet
                     return static_cast<double>(t.cost.count) * 1e-4;
                   }});
  static constexpr std::pair<const char*, Severity> kSeverities[] = {
      {"danger", Severity::Danger},
      {"wont_work", Severity::WontWork},
      {"close_to_limit", Severity::CloseToLimit},
      {"note", Severity::Note}};
  for (const auto& [key, severity] : kSeverities)
    lines.push_back({key, "", 0, [severity = severity](const Side& s) {
                       return std::optional(static_cast<double>(findings::countOf(*s.report, severity)));
                     }});
  lines.push_back({"not_wired", "", 0, [](const Side& s) {
                     return std::optional(static_cast<double>(s.report->notWired.size()));
                   }});
  return lines;
}

std::string cellOf(const Line& line, const Side& side) {
  if (line.words) return line.words(side);
  const auto figure = line.figure(side);
  return figure ? fixed(*figure, line.decimals) : std::string{};
}

/// What the second has more than the first, with its sign; empty where they show the same.
std::string differenceOf(const Line& line, const Side& first, const Side& second) {
  const auto a = line.figure(first), b = line.figure(second);
  if (!a || !b || cellOf(line, first) == cellOf(line, second)) return {};
  const double scale = std::pow(10.0, line.decimals);
  const double more = (std::round(*b * scale) - std::round(*a * scale)) / scale;
  return (more > 0 ? "+" : "") + fixed(more, line.decimals);
}

std::string headOf(const Line& line) {
  return say(std::string("compare_") + line.key) + (line.unit.empty() ? "" : ", " + line.unit);
}

void column(Table& table, const std::string& key, const std::string& head, bool number) {
  table.columns.push_back(key);
  table.keys.push_back(key);
  table.heads.push_back(head);
  table.numbers.push_back(number);
}

Table started(const char* name, const std::vector<Side>& sides) {
  Table table;
  table.name = name;
  table.title = say(std::string("title_") + name);
  column(table, "what", "", false);
  for (std::size_t i = 0; i < sides.size(); ++i)
    column(table, "side_" + std::to_string(i + 1), sides[i].name, true);
  return table;
}

void row(Table& table, Id record, std::vector<std::string> cells) {
  cells.resize(table.keys.size());
  table.rows.push_back(std::move(cells));
  table.rowRecord.push_back(record);
}

}  // namespace

Table comparedFigures(const std::vector<Side>& sides) {
  Table table = started("compared_figures", sides);
  if (sides.size() == 2) column(table, "difference", say("compare_difference"), true);
  for (const Line& line : figureLines(*sides.front().assessment)) {
    std::vector<std::string> cells{headOf(line)};
    for (const Side& side : sides) cells.push_back(cellOf(line, side));
    if (sides.size() == 2) cells.push_back(differenceOf(line, sides[0], sides[1]));
    row(table, {}, std::move(cells));
  }
  return table;
}

Table comparedParts(const std::vector<Side>& sides) {
  Table table = started("compared_parts", sides);
  const bool metric = yard::settings(sides.front().assessment->yard).units == base::UnitSystem::Metric;
  std::map<std::pair<std::string, std::string>, std::vector<std::string>> amounts;
  for (std::size_t i = 0; i < sides.size(); ++i)
    for (const takeoff::PartLine& line : sides[i].assessment->totals.parts) {
      if (!isToBuy(line)) continue;
      auto& cells =
          amounts.try_emplace({line.group, line.what}, sides.size(), std::string("0")).first->second;
      const double m = base::metres(line.length).si;
      cells[i] = line.length.count > 0 ? fixed(metric ? m : m / 0.3048, 1) + (metric ? " m" : " ft")
                                       : std::to_string(toBuy(line));
    }
  for (const auto& [what, cells] : amounts) {
    if (std::all_of(cells.begin(), cells.end(), [&](const auto& one) { return one == cells.front(); }))
      continue;
    std::vector<std::string> whole{what.second};
    whole.insert(whole.end(), cells.begin(), cells.end());
    row(table, {}, std::move(whole));
  }
  return table;
}

Table sideBySide(const std::vector<Side>& sides) {
  Table table = comparedFigures(sides);
  for (std::vector<std::string>& cells : comparedParts(sides).rows) {
    cells.front() = say("compare_to_buy", {{"part", cells.front()}});
    row(table, {}, std::move(cells));
  }
  return table;
}

namespace {

/// Labels of the fields in which two records of one kind differ.
std::string changedFields(Id id, const yard::Record& before, const yard::Record& after) {
  const Json a = Json::parse(yard::encode(id, before)), b = Json::parse(yard::encode(id, after));
  std::string out;
  for (const yard::FieldInfo& info : yard::fieldsOf(yard::kindOf(after)))
    if (a.at(info.name) != b.at(info.name)) out += (out.empty() ? "" : ", ") + info.label;
  return out;
}

bool isIdea(const yard::Record& record) { return std::holds_alternative<yard::Idea>(record); }

}  // namespace

Table differences(const Side& from, const Side& to) {
  Table table;
  table.name = "differences";
  table.title = say("title_differences");
  column(table, "item", say("compare_item"), false);
  column(table, "kind", say("compare_kind"), false);
  column(table, "change", say("compare_change"), false);
  const auto &a = from.assessment->yard.records, &b = to.assessment->yard.records;
  const auto kind = [](const yard::Record& record) { return std::string(yard::label(yard::kindOf(record))); };
  const auto only = [&](const Side& side, Id id, const yard::Record& record) {
    if (!isIdea(record))
      row(table, id,
          {side.assessment->labelOf(id), kind(record), say("compare_only", {{"side", side.name}})});
  };
  auto x = a.begin();
  auto y = b.begin();
  while (x != a.end() || y != b.end()) {
    if (y == b.end() || (x != a.end() && x->first < y->first)) {
      only(from, x->first, *x->second);
      ++x;
    } else if (x == a.end() || y->first < x->first) {
      only(to, y->first, *y->second);
      ++y;
    } else {
      if (x->second->index() != y->second->index()) {
        only(from, x->first, *x->second);
        only(to, y->first, *y->second);
      } else if (!isIdea(*x->second) && x->second != y->second && *x->second != *y->second) {
        row(table, y->first,
            {to.assessment->labelOf(y->first), kind(*y->second),
             say("compare_changed", {{"fields", changedFields(y->first, *x->second, *y->second)}})});
      }
      ++x, ++y;
    }
  }
  return table;
}

namespace {

std::size_t lettersIn(const std::string& text) {  // code points: the columns stand under each other
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (c & 0xC0) != 0x80; }));
}

/// The table in columns of text, numbers at the right.
std::string aligned(const Table& table) {
  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < table.heads.size(); ++c) {
    std::size_t width = lettersIn(table.heads[c]);
    for (const auto& cells : table.rows) width = std::max(width, lettersIn(cells[c]));
    widths.push_back(width);
  }
  const auto line = [&](const std::vector<std::string>& cells) {
    std::string out = "  ";
    for (std::size_t c = 0; c < cells.size(); ++c) {
      const std::string space(widths[c] - lettersIn(cells[c]), ' ');
      out += (c == 0 ? "" : "  ") + (table.numbers[c] ? space + cells[c] : cells[c] + space);
    }
    return out.substr(0, out.find_last_not_of(' ') + 1) + "\n";
  };
  std::string out = line(table.heads);
  for (const auto& cells : table.rows) out += line(cells);
  return out;
}

Json rowsJson(const Table& table) { return Json::parse(json({table})).at("tables").at(0).at("rows"); }

}  // namespace

std::string compareText(const std::vector<Side>& sides) {
  std::string out = aligned(comparedFigures(sides));
  const Table parts = comparedParts(sides);
  if (!parts.rows.empty()) out += "\n" + parts.title + "\n" + aligned(parts);
  for (std::size_t i = 1; i < sides.size(); ++i) {
    const Table what = differences(sides.front(), sides[i]);
    out += "\n" + say("compare_otherwise", {{"side", sides[i].name}, {"first", sides.front().name}}) + "\n";
    out += what.rows.empty() ? "  " + say("compare_same") + "\n" : aligned(what);
  }
  return out;
}

std::string compareJson(const std::vector<Side>& sides) {
  Json out;
  out["format"] = "yardwright-compare";
  out["version"] = 1;
  out["sides"] = Json::array();
  for (const Side& side : sides) {
    Json one;
    one["name"] = side.name;
    for (const Line& line : figureLines(*sides.front().assessment)) {
      const auto figure = line.figure(side);
      const double scale = std::pow(10.0, line.decimals);
      if (line.words)
        one["figures"][line.key] = line.words(side);
      else if (!figure)
        one["figures"][line.key] = nullptr;
      else if (line.decimals == 0)
        one["figures"][line.key] = static_cast<std::int64_t>(std::llround(*figure));
      else
        one["figures"][line.key] = std::round(*figure * scale) / scale;
    }
    out["sides"].push_back(std::move(one));
  }
  out["parts"] = rowsJson(comparedParts(sides));
  out["differences"] = Json::array();
  for (std::size_t i = 1; i < sides.size(); ++i)
    out["differences"].push_back(
        {{"side", sides[i].name}, {"rows", rowsJson(differences(sides.front(), sides[i]))}});
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace yw::papers
