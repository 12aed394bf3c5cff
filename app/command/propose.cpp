#include "core/propose/propose.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "app/command/command.h"
#include "app/command/take_list.h"
#include "core/file/yard_file.h"
#include "core/propose/plan.h"
#include "core/yard/labels.h"

namespace yw::command {

namespace {

using Json = nlohmann::ordered_json;

struct Options {
  std::string file, to;
  bool sites = false, supplies = false, ports = false, feeds = false, circuits = false, addresses = false,
       covers = false, all = false, json = false;
};

struct Part {
  const char* name;
  propose::YardPlan (*plan)(const assess::AssessmentPtr&);
  bool wanted;
};

propose::YardPlan feeds(const assess::AssessmentPtr& a) { return propose::planFeedsOf(a); }

struct Planned {
  const char* name;
  propose::YardPlan plan;
};

/// Money as people write it, to the cent.
std::string money(const yard::Yard& yard, double amount) {
  const auto cents = static_cast<std::int64_t>(std::llround(amount * 100));
  const std::string part = std::to_string(100 + cents % 100).substr(1);
  return yard::settings(yard).currency + std::to_string(cents / 100) + "." + part;
}

/// Things that change, each counted once.
std::int64_t subjectsOf(const propose::YardPlan& plan) {
  std::set<base::Id> subjects;
  for (const propose::PlanStep& step : plan.steps)
    if (step.subject) subjects.insert(step.subject);
  return static_cast<std::int64_t>(subjects.size());
}

std::string asText(const yard::Yard& before, const yard::Yard& after, const std::vector<Planned>& all) {
  const base::UnitSystem units = yard::settings(before).units;
  std::string out;
  for (const Planned& p : all) {
    out += base::text(base::Message{std::string("plan_title_") + p.name,
                                    {{"before", money(before, p.plan.costBefore)},
                                     {"after", money(before, p.plan.costAfter)},
                                     {"gap", std::llround(p.plan.gap() * 100)},
                                     {"count", subjectsOf(p.plan)}}},
                      units) +
           "\n";
    for (const propose::PlanStep& step : p.plan.steps) out += "  " + base::text(step.reason, units) + "\n";
    if (!p.plan.cannot.empty()) out += base::text(base::Message{"plan_cannot_title", {}}) + "\n";
    for (const propose::PlanStep& step : p.plan.cannot) out += "  " + base::text(step.reason, units) + "\n";
    out += "\n";
  }
  const Checked was = check(before), is = check(after);
  const auto count = [](const findings::Report& report, findings::Severity severity) {
    return static_cast<std::int64_t>(
        std::count_if(report.findings.begin(), report.findings.end(),
                      [&](const findings::Finding& f) { return f.severity == severity; }));
  };
  for (const findings::Severity severity :
       {findings::Severity::Danger, findings::Severity::WontWork, findings::Severity::CloseToLimit})
    out += base::text(base::Message{"plan_findings",
                                    {{"severity", std::string(findings::label(severity))},
                                     {"before", count(was.report, severity)},
                                     {"after", count(is.report, severity)}}}) +
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

std::string asJson(const yard::Yard& after, const std::vector<Planned>& all) {
  Json json = {{"format", "yardwright-propose"}, {"version", 1}, {"parts", Json::array()}};
  for (const Planned& p : all)
    json["parts"].push_back({{"part", p.name},
                             {"change", p.plan.change.name},
                             {"records_changed", p.plan.change.replacements.size()},
                             {"cost_before", std::round(p.plan.costBefore * 100) / 100},
                             {"cost_after", std::round(p.plan.costAfter * 100) / 100},
                             {"bound", std::round(p.plan.bound * 100) / 100},
                             {"steps", stepsJson(after, p.plan.steps)},
                             {"cannot", stepsJson(after, p.plan.cannot)}});
  return json.dump(2) + "\n";
}

int proposeAll(const Options& options) {
  const base::Result<yard::Yard> yard = readYard(options.file);
  if (!yard) return complain(yard.error());
  const bool all = options.all || !(options.sites || options.supplies || options.ports || options.feeds ||
                                    options.circuits || options.addresses || options.covers);
  const Part parts[] = {{"sites", propose::planSitesOf, all || options.sites},
                        {"supplies", propose::planSuppliesOf, all || options.supplies},
                        {"ports", propose::planPortsOf, all || options.ports},
                        {"feeds", feeds, all || options.feeds},
                        {"circuits", propose::planCircuitsOf, all || options.circuits},
                        {"addresses", propose::planAddressesOf, all || options.addresses},
                        {"covers", propose::planCoversOf, all || options.covers}};
  std::vector<Planned> planned;
  assess::AssessmentPtr now = assess::assess(*yard);
  bool met = true;
  for (const Part& part : parts) {
    if (!part.wanted) continue;
    planned.push_back({part.name, part.plan(now)});
    met = met && planned.back().plan.cannot.empty();
    const edit::Change& change = planned.back().plan.change;
    if (!change.empty()) now = assess::assess(edit::apply(now->yard, change), now);
  }
  if (!options.to.empty())
    if (const int written = writeOut(options.to, file::bytesOf(now->yard)); written != kClean) return written;
  if (options.to != "-") {
    const std::string said = options.json ? asJson(now->yard, planned) : asText(*yard, now->yard, planned);
    if (const int written = writeOut("-", said); written != kClean) return written;
  }
  return met ? kClean : kFailing;
}

}  // namespace

std::function<int()> definePropose(CLI::App& app) {
  auto options = std::make_shared<Options>();
  app.add_option("FILE", options->file, "The yard; - reads the standard input")->required();
  app.add_flag("--sites", options->sites, "Where boxes stand: by now, beside an outlet or beside a prop");
  app.add_flag("--supplies", options->supplies, "How many supplies of which rating in which box");
  app.add_flag("--ports", options->ports, "Which prop hangs on which port, in what order");
  app.add_flag("--feeds", options->feeds, "Feeds along the runs");
  app.add_flag("--circuits", options->circuits, "Which supply is plugged in at which outlet");
  app.add_flag("--addresses", options->addresses, "Start universes with room to grow");
  app.add_flag("--covers", options->covers, "Covers where cables cross walks and drives");
  app.add_flag("--all", options->all, "All of these, in that order; so without any of them");
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
