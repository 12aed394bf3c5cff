#include "core/propose/propose.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "app/command/command.h"
#include "app/command/take_list.h"
#include "core/file/yard_file.h"
#include "core/propose/trade_offs.h"
#include "core/yard/labels.h"
#include "core/yard/nearest_word.h"

namespace yw::command {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string file, to;
  std::set<std::string> wanted;      ///< keys of parts
  std::vector<std::string> without;  ///< `ports:K1-P05`
  std::string tradeOff, prop;
  bool all = false, json = false;
};

std::string asText(const yard::Yard& before, const propose::WholePlan& whole) {
  const base::UnitSystem units = yard::settings(before).units;
  std::string out;
  for (const propose::WholePlan::Made& made : whole.parts) {
    out += base::text(propose::titleOf(made, before), units) + "\n";
    for (const propose::PlanStep& step : made.plan.steps) out += "  " + base::text(step.reason, units) + "\n";
    if (!made.leftOut.empty()) out += base::text(base::Message{"plan_left_out_title", {}}) + "\n";
    for (const auto& [name, step] : made.leftOut) out += "  " + base::text(step.reason, units) + "\n";
    if (!made.plan.cannot.empty()) out += base::text(base::Message{"plan_cannot_title", {}}) + "\n";
    for (const propose::PlanStep& step : made.plan.cannot)
      out += "  " + base::text(step.reason, units) + "\n";
    out += "\n";
  }
  out += base::text(base::Message{"plan_costs", {}}) + "\n";
  const findings::Report was = check(before).report, is = findings::report(*whole.after);
  for (const findings::Severity severity :
       {findings::Severity::Danger, findings::Severity::WontWork, findings::Severity::CloseToLimit})
    out += base::text(base::Message{"plan_findings",
                                    {{"severity", std::string(findings::label(severity))},
                                     {"before", findings::countOf(was, severity)},
                                     {"after", findings::countOf(is, severity)}}}) +
           "\n";
  return out;
}

Json stepsJson(const yard::Yard& after, const std::vector<propose::PlanStep>& steps) {
  Json list = Json::array();
  for (const propose::PlanStep& step : steps)
    list.push_back({{"subject", step.subject.value},
                    {"label", yard::labelOf(after, step.subject)},
                    {"key", step.reason.key},
                    {"reason", base::text(step.reason, yard::settings(after).units)}});
  return list;
}

Json leftOutJson(const yard::Yard& after,
                 const std::vector<std::pair<std::string, propose::PlanStep>>& steps) {
  Json list = Json::array();
  for (const auto& [name, step] : steps)
    list.push_back({{"label", name},
                    {"key", step.reason.key},
                    {"reason", base::text(step.reason, yard::settings(after).units)}});
  return list;
}

std::string asJson(const propose::WholePlan& whole) {
  const yard::Yard& after = whole.after->yard;
  Json json = {{"format", "yardwright-propose"}, {"version", 1}, {"parts", Json::array()}};
  for (const auto& [part, plan, leftOut] : whole.parts)
    json["parts"].push_back({{"part", part->key},
                             {"change", plan.change.name},
                             {"records_changed", plan.change.replacements.size()},
                             {"cost_before", std::round(plan.costBefore * 100) / 100},
                             {"cost_after", std::round(plan.costAfter * 100) / 100},
                             {"bound", std::round(plan.bound * 100) / 100},
                             {"steps", stepsJson(after, plan.steps)},
                             {"left_out", leftOutJson(after, leftOut)},
                             {"cannot", stepsJson(after, plan.cannot)}});
  return json.dump(2) + "\n";
}

/// Columns as wide as what stands in them, numbers to the right.
std::string tradeOffText(const yard::Yard& yard, const propose::TradeOff& what,
                         const std::vector<propose::TradeOffRow>& rows) {
  const base::UnitSystem units = yard::settings(yard).units;
  const bool metric = units == base::UnitSystem::Metric;
  std::vector<std::vector<std::string>> cells{{"", "boxes", "ports", "feeds", "supplies", "cables", "cost",
                                               "supplied", "from house", "cannot be met", "left"}};
  for (const propose::TradeOffRow& row : rows)
    cells.push_back({base::text(row.choice, units) + (row.now ? "*" : ""), std::to_string(row.boxes),
                     std::to_string(row.ports), std::to_string(row.feeds), std::to_string(row.supplies),
                     metric ? fmt::format("{:.0f} m", row.copper)
                            : fmt::format("{:.0f} ft", row.copper / base::metres(base::feet(1)).si),
                     propose::money(yard, row.cost), fmt::format("{:.1f} A", row.amps),
                     fmt::format("{:.1f} A", row.lineAmps), std::to_string(row.cannot),
                     std::to_string(row.grave)});
  std::vector<std::size_t> widths(cells.front().size());
  for (const auto& line : cells)
    for (std::size_t c = 0; c < line.size(); ++c) widths[c] = std::max(widths[c], line[c].size());
  std::string out = base::text(base::Message{std::string("trade_off_") + what.key, {}}) + "\n";
  for (const auto& line : cells) {
    out += fmt::format("{:<{}}", line[0], widths[0]);
    for (std::size_t c = 1; c < line.size(); ++c) out += fmt::format("  {:>{}}", line[c], widths[c]);
    out += "\n";
  }
  for (const char* key : {"trade_off_how", "trade_off_now", "trade_off_costs"})
    out += base::text(base::Message{key, {}}) + "\n";
  return out;
}

std::string tradeOffJson(const yard::Yard& yard, const propose::TradeOff& what,
                         const std::vector<propose::TradeOffRow>& rows) {
  Json json = {
      {"format", "yardwright-trade-offs"}, {"version", 2}, {"trade_off", what.key}, {"rows", Json::array()}};
  for (const propose::TradeOffRow& row : rows)
    json["rows"].push_back({{"choice", base::text(row.choice, yard::settings(yard).units)},
                            {"value", row.value},
                            {"now", row.now},
                            {"boxes", row.boxes},
                            {"controllers", row.controllers},
                            {"ports", row.ports},
                            {"feeds", row.feeds},
                            {"supplies", row.supplies},
                            {"cables_m", std::round(row.copper * 100) / 100},
                            {"cost", std::round(row.cost * 100) / 100},
                            {"amps", row.amps},
                            {"line_amps", row.lineAmps},
                            {"cannot", row.cannot},
                            {"danger_and_wont_work", row.grave}});
  return json.dump(2) + "\n";
}

/// The prop of that name; an error that names what is near otherwise.
base::Result<base::Id> propNamed(const yard::Yard& yard, const std::string& name) {
  if (name.empty()) return base::Id{};
  std::vector<std::string> known;
  for (const auto& [id, prop] : yard::all<yard::Prop>(yard)) {
    if (prop->name == name) return id;
    known.push_back(prop->name);
  }
  const std::string near = yard::nearestWord(name, known);
  return base::fail(base::ErrorCode::BadInput, {near.empty() ? "propose_no_prop" : "propose_no_prop_near",
                                                {{"name", name}, {"near", near}}});
}

int tellTradeOff(const Options& options, const yard::Yard& yard) {
  const base::Result<base::Id> prop = propNamed(yard, options.prop);
  if (!prop) return complain(prop.error());
  const propose::TradeOff& what = *propose::findTradeOff(options.tradeOff);
  const auto rows = what.rows(assess::assess(yard), *prop, std::atomic<bool>{false}, {});
  return writeOut("-", options.json ? tradeOffJson(yard, what, rows) : tradeOffText(yard, what, rows));
}

/// `ports:K1-P05`; an error where it is not of that form or names no part.
base::Result<propose::LeftOut> leftOutOf(const std::vector<std::string>& words) {
  std::vector<std::string> keys;
  for (const propose::PlanPart& part : propose::planParts()) keys.emplace_back(part.key);
  propose::LeftOut out;
  for (const std::string& word : words) {
    const std::size_t colon = word.find(':');
    const std::string key = word.substr(0, colon);
    if (colon == std::string::npos || colon + 1 == word.size() ||
        std::find(keys.begin(), keys.end(), key) == keys.end())
      return base::fail(
          base::ErrorCode::BadInput,
          {"propose_without_form", {{"word", word}, {"parts", fmt::format("{}", fmt::join(keys, ", "))}}});
    out.emplace(key, word.substr(colon + 1));
  }
  return out;
}

/// That step is not there: an error that names those that are.
base::Error noSuchStep(const std::pair<std::string, std::string>& wanted, const propose::WholePlan& whole) {
  std::set<std::string> labels;
  for (const propose::WholePlan::Made& made : whole.parts)
    if (made.part->key == wanted.first)
      for (const propose::PlanStep& step : made.plan.steps)
        if (step.subject) labels.insert(yard::labelOf(whole.after->yard, step.subject));
  const std::vector<std::string> list(labels.begin(), labels.end());
  return {base::ErrorCode::BadInput,
          {list.empty() ? "propose_without_none" : "propose_without_unknown",
           {{"part", wanted.first},
            {"label", wanted.second},
            {"labels", fmt::format("{}", fmt::join(list, ", "))}}},
          {}};
}

int proposeAll(const Options& options) {
  const base::Result<yard::Yard> yard = readYard(options.file);
  if (!yard) return complain(yard.error());
  if (!options.tradeOff.empty()) return tellTradeOff(options, *yard);
  std::set<std::string> wanted = options.wanted;
  if (options.all || wanted.empty())
    for (const propose::PlanPart& part : propose::planParts()) wanted.insert(part.key);
  const base::Result<propose::LeftOut> leftOut = leftOutOf(options.without);
  if (!leftOut) return complain(leftOut.error());
  const propose::WholePlan whole =
      propose::planWhole(assess::assess(*yard), wanted, std::atomic<bool>{false}, {}, *leftOut);
  if (!whole.unknown.empty()) return complain(noSuchStep(*whole.unknown.begin(), whole));
  if (!options.to.empty())
    if (const int written = writeOut(options.to, file::bytesOf(whole.after->yard)); written != kClean)
      return written;
  if (options.to != "-") {
    const std::string said = options.json ? asJson(whole) : asText(*yard, whole);
    if (const int written = writeOut("-", said); written != kClean) return written;
  }
  return whole.met ? kClean : kFailing;
}

}  // namespace

std::function<int()> definePropose(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("FILE", options->file, "The yard; - reads the standard input")->required();
  for (const propose::PlanPart& part : propose::planParts())
    app.add_flag_callback(
        std::string("--") + part.key, [options, key = std::string(part.key)] { options->wanted.insert(key); },
        base::text(base::Message{std::string("plan_part_") + part.key, {}}));
  app.add_flag("--all", options->all, "All of these, in that order; so without any of them");
  app.add_option("--without", options->without,
                 "Leave a step out and plan round it: the part and what the step is about, such as "
                 "ports:K1-P05; may be given more than once")
      ->allow_extra_args(false);
  std::set<std::string> keys;
  for (const propose::TradeOff& one : propose::tradeOffs()) keys.insert(one.key);
  auto* tradeOff = app.add_option("--trade-off", options->tradeOff,
                                  "Instead: what a choice costs, the yard planned with each of its values: "
                                  "brightness, frames a second, boxes, or volts of the pixels")
                       ->check(CLI::IsMember(keys));
  app.add_option("--prop", options->prop, "For volts: of this prop only, by its name")->needs(tradeOff);
  app.add_option("-o,--to", options->to,
                 "Write the yard with the proposal made; - is the standard output, instead of the reasons");
  auto list = std::make_shared<ListOptions>();
  auto* from = app.add_option("--list", list->from,
                              "Instead: take last year's list in, a table with headings; - reads it from the "
                              "standard input");
  app.add_option("--columns", list->columns,
                 "What its columns say, by commas: prop, kind, pixels, port, universe, slot, lead, notes or "
                 "none; else by their headings")
      ->needs(from)
      ->delimiter(',');
  app.add_option("--unit", list->unit, "Of leads without one: ft, in, m or cm")
      ->check(CLI::IsMember({"ft", "in", "m", "cm"}))
      ->needs(from);
  app.add_flag("--json", options->json, "For a program: format yardwright-propose, version 1");
  app.footer("Exit code 1: some limit cannot be met; it is named, and by how much.");
  return [options, list] {
    if (list->from.empty()) return proposeAll(*options);
    list->yard = options->file;
    list->to = options->to;
    return takeLastYear(*list);
  };
}

}  // namespace yw::command
