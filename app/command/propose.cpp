#include "core/propose/propose.h"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "app/command/command.h"
#include "app/command/take_list.h"
#include "core/file/yard_file.h"
#include "core/propose/trade_offs.h"
#include "core/yard/labels.h"

namespace yw::command {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string file, to;
  std::set<std::string> wanted;  ///< keys of parts
  bool all = false, json = false, tradeOffs = false;
};

std::string asText(const yard::Yard& before, const propose::WholePlan& whole) {
  const base::UnitSystem units = yard::settings(before).units;
  std::string out;
  for (const propose::WholePlan::Made& made : whole.parts) {
    out += base::text(propose::titleOf(made, before), units) + "\n";
    for (const propose::PlanStep& step : made.plan.steps) out += "  " + base::text(step.reason, units) + "\n";
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

std::string asJson(const propose::WholePlan& whole) {
  const yard::Yard& after = whole.after->yard;
  Json json = {{"format", "yardwright-propose"}, {"version", 1}, {"parts", Json::array()}};
  for (const auto& [part, plan] : whole.parts)
    json["parts"].push_back({{"part", part->key},
                             {"change", plan.change.name},
                             {"records_changed", plan.change.replacements.size()},
                             {"cost_before", std::round(plan.costBefore * 100) / 100},
                             {"cost_after", std::round(plan.costAfter * 100) / 100},
                             {"bound", std::round(plan.bound * 100) / 100},
                             {"steps", stepsJson(after, plan.steps)},
                             {"cannot", stepsJson(after, plan.cannot)}});
  return json.dump(2) + "\n";
}

std::string tradeOffsText(const yard::Yard& yard, const std::vector<propose::BrightnessRow>& rows) {
  std::string out = base::text(base::Message{"trade_off_brightness", {}}) + "\n" + "  " +
                    base::text(base::Message{"trade_off_heads", {}}) + "\n";
  for (const propose::BrightnessRow& row : rows)
    out += fmt::format("{:>5.0f} %{} {:>6} {:>9} {:>11} {:>9.1f} A {:>9.1f} A {:>13} {:>11}\n",
                       100.0 * base::fraction(row.limit), row.now ? '*' : ' ', row.feeds, row.supplies,
                       propose::money(yard, row.cost), row.amps, row.lineAmps, row.cannot, row.grave);
  return out + base::text(base::Message{"trade_off_now", {}}) + "\n" +
         base::text(base::Message{"plan_costs", {}}) + "\n";
}

std::string tradeOffsJson(const std::vector<propose::BrightnessRow>& rows) {
  Json json = {{"format", "yardwright-trade-offs"}, {"version", 1}, {"brightness", Json::array()}};
  for (const propose::BrightnessRow& row : rows)
    json["brightness"].push_back({{"limit", base::fraction(row.limit)},
                                  {"now", row.now},
                                  {"feeds", row.feeds},
                                  {"supplies", row.supplies},
                                  {"cost", std::round(row.cost * 100) / 100},
                                  {"amps", row.amps},
                                  {"line_amps", row.lineAmps},
                                  {"cannot", row.cannot},
                                  {"danger_and_wont_work", row.grave}});
  return json.dump(2) + "\n";
}

int tellTradeOffs(const Options& options, const yard::Yard& yard) {
  const auto rows = propose::brightnessTradeOff(assess::assess(yard), std::atomic<bool>{false});
  return writeOut("-", options.json ? tradeOffsJson(rows) : tradeOffsText(yard, rows));
}

int proposeAll(const Options& options) {
  const base::Result<yard::Yard> yard = readYard(options.file);
  if (!yard) return complain(yard.error());
  if (options.tradeOffs) return tellTradeOffs(options, *yard);
  std::set<std::string> wanted = options.wanted;
  if (options.all || wanted.empty())
    for (const propose::PlanPart& part : propose::planParts()) wanted.insert(part.key);
  const propose::WholePlan whole =
      propose::planWhole(assess::assess(*yard), wanted, std::atomic<bool>{false});
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
  app.add_flag("--trade-offs", options->tradeOffs,
               "Instead: what each brightness limit costs in feeds, supplies and amps");
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
