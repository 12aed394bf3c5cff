#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "core/base/number_text.h"
#include "core/findings/rule_help.h"
#include "core/papers/digest.h"
#include "core/papers/faults_json.h"
#include "core/papers/mains_json.h"
#include "core/papers/mains_tables.h"
#include "core/papers/papers.h"
#include "core/papers/table_builder.h"

namespace yw::papers {
namespace {

using findings::Finding;
using findings::Report;
using findings::Severity;
using Json = nlohmann::ordered_json;

constexpr std::array kSeverities{Severity::Danger, Severity::WontWork, Severity::CloseToLimit,
                                 Severity::Note};
constexpr std::size_t kMostOthers = 8;  // further subjects named on one line
constexpr int kBarWidth = 30;           // characters up to the tick

/// ISO 3864 has the triangle warn; the others differ by shape, not by color.
const char* signOf(Severity severity) {
  static constexpr const char* kSigns[] = {"▲", "■", "□", "•"};
  return kSigns[static_cast<std::size_t>(severity)];
}

const char* wordOf(Severity severity) {
  static constexpr const char* kWords[] = {"danger", "wont_work", "close_to_limit", "note"};
  return kWords[static_cast<std::size_t>(severity)];
}

const char* ruleLabel(const std::string& key) {
  for (const findings::Rule& rule : findings::rules())
    if (key == rule.key) return rule.label;
  return key.c_str();
}

std::string placeText(const Digest& d, const Finding& finding) {
  std::string where;
  if (finding.prop && finding.pixel > 0)
    where = say("pixel_of_prop", {{"prop", d.label(finding.prop)}, {"pixel", finding.pixel}});
  else if (!finding.subjects.empty())
    where = d.label(finding.subjects.front());
  return say("place", {{"where", where},
                       {"east", d.height(finding.place.x)},
                       {"north", d.height(finding.place.y)},
                       {"up", d.height(finding.place.z)}});
}

std::string percentText(double used) { return fixed(used * 100.0, 0) + " %"; }

/// The share of the allowance as characters with the tick at 100 %.
std::string bar(double used) {
  const int filled =
      std::clamp(static_cast<int>(std::lround(used * kBarWidth)), 0, kBarWidth + kBarWidth / 2);
  std::string out = "[";
  for (int i = 0; i < std::max(filled, kBarWidth); ++i) {
    if (i == kBarWidth) out += '|';
    out += i < filled ? '#' : '.';
  }
  return out + (filled <= kBarWidth ? "|]" : "]");
}

std::string assumedText(const Digest& d, const Finding& finding) {
  std::string names;
  for (const Id id : finding.assumed) names += (names.empty() ? "" : ", ") + d.label(id);
  return names;
}

std::string adviceText(const Digest& d, const Finding& finding) {
  return finding.advice.key.empty() ? "" : base::text(finding.advice, d.units);
}

/// Some findings have no figure: a size that is refused, a prop that rests.
bool hasLimit(const Finding& finding) {
  const auto* words = std::get_if<std::string>(&finding.limit);
  return finding.used > 0.0 && !(words != nullptr && words->empty());
}

std::string figureLine(const Digest& d, const Finding& finding) {
  return say("check_figure", {{"figure", base::text(finding.figure, d.units)},
                              {"limit", base::text(finding.limit, d.units)},
                              {"used", percentText(finding.used)},
                              {"bar", bar(finding.used)}});
}

std::string otherSubjects(const Digest& d, const Report& report, const findings::Group& group) {
  std::string names;
  const std::size_t shown = std::min(group.findings.size(), kMostOthers + 1);
  for (std::size_t i = 1; i < shown; ++i) {
    const Finding& finding = report.findings[group.findings[i]];
    if (!finding.subjects.empty()) names += (names.empty() ? "" : ", ") + d.label(finding.subjects.front());
  }
  const auto rest = static_cast<std::int64_t>(group.findings.size() - shown);
  return rest > 0 ? say("and_more", {{"names", names}, {"count", rest}}) : names;
}

std::string groupText(const Digest& d, const Report& report, const findings::Group& group) {
  const Finding& worst = report.findings[group.findings.front()];
  std::string out = std::string(signOf(group.severity)) + " " + findings::label(group.severity) + ": " +
                    base::text(group.sentence, d.units) + "\n";
  const auto line = [&](const std::string& key, const std::string& value) {
    if (!value.empty()) out += "    " + say(key, {{"what", value}}) + "\n";
  };
  if (hasLimit(worst)) out += "    " + figureLine(d, worst) + "\n";
  line("check_place", placeText(d, worst));
  line("check_condition", worst.condition);
  line("check_rule",
       say("check_rule_source", {{"label", std::string(ruleLabel(group.rule))}, {"source", worst.source}}));
  line("check_remedy", adviceText(d, worst));
  line("check_assumed", assumedText(d, worst));
  line("check_also", otherSubjects(d, report, group));
  return out;
}

std::string namesOf(const Digest& d, const std::vector<Id>& ids) {
  std::string names;
  for (std::size_t i = 0; i < std::min(ids.size(), kMostOthers); ++i)
    names += (names.empty() ? "" : ", ") + d.label(ids[i]);
  const auto rest = static_cast<std::int64_t>(ids.size()) - static_cast<std::int64_t>(kMostOthers);
  return rest > 0 ? say("and_more", {{"names", names}, {"count", rest}}) : names;
}

struct Totals {
  double limit = 0.0, full = 0.0;
};
Totals supplyTotals(const Assessment& a) {
  Totals totals;
  for (const auto& [id, figure] : a.limit.supplies) totals.limit += figure.amps;
  for (const auto& [id, figure] : a.fullWhite.supplies) totals.full += figure.amps;
  return totals;
}

std::string countsLine(const Report& report) {
  std::string out;
  for (const Severity severity : kSeverities)
    out += (out.empty() ? "" : ", ") +
           say("check_count",
               {{"severity", std::string(findings::label(severity))}, {"count", countOf(report, severity)}});
  return out;
}

struct FactJson {
  Json operator()(std::int64_t v) const { return {{"value", v}, {"unit", ""}}; }
  Json operator()(const std::string& v) const { return {{"value", v}, {"unit", ""}}; }
  Json operator()(base::Length v) const { return scaled(v.count, 1e-9, "m"); }
  Json operator()(base::Angle v) const { return scaled(v.count, 1e-6, "deg"); }
  Json operator()(base::Voltage v) const { return scaled(v.count, 1e-6, "V"); }
  Json operator()(base::Current v) const { return scaled(v.count, 1e-6, "A"); }
  Json operator()(base::Resistance v) const { return scaled(v.count, 1e-6, "ohm"); }
  Json operator()(base::Power v) const { return scaled(v.count, 1e-3, "W"); }
  Json operator()(base::Ratio v) const { return scaled(v.count, 1e-6, "1"); }
  Json operator()(base::Money v) const { return scaled(v.count, 1e-4, "currency"); }
  Json operator()(base::Duration v) const { return scaled(v.count, 1e-9, "s"); }
  Json operator()(base::Frequency v) const { return scaled(v.count, 1e-3, "Hz"); }
  Json operator()(base::Temperature v) const { return scaled(v.count, 1e-3, "degC"); }
  Json operator()(base::Mass v) const { return scaled(v.count, 1e-6, "kg"); }
  /// The stored count times a power of ten, rounded to the nearest double of that decimal.
  static Json scaled(std::int64_t count, double unit, const char* name) {
    return {{"value", static_cast<double>(count) / (1.0 / unit)}, {"unit", name}};
  }
};

Json factJson(const Digest& d, const base::Fact& fact) {
  Json out = std::visit(FactJson{}, fact);
  out["text"] = base::text(fact, d.units);
  return out;
}

Json idsJson(const Digest& d, const std::vector<Id>& ids) {
  Json out = Json::array();
  for (const Id id : ids) out.push_back({{"id", id.value}, {"label", d.label(id)}});
  return out;
}

Json findingJson(const Digest& d, const Finding& f) {
  Json out;
  out["rule"] = f.rule;
  out["severity"] = wordOf(f.severity);
  out["subjects"] = idsJson(d, f.subjects);
  out["condition"] = f.condition;
  out["sentence"] = base::text(f.sentence, d.units);
  out["figure"] = factJson(d, f.figure);
  out["limit"] = factJson(d, f.limit);
  out["used"] = static_cast<double>(std::llround(f.used * 1e6)) / 1e6;
  out["place"] = {{"text", placeText(d, f)},
                  {"x_m", std::round(f.place.x * 1e4) / 1e4},
                  {"y_m", std::round(f.place.y * 1e4) / 1e4},
                  {"z_m", std::round(f.place.z * 1e4) / 1e4}};
  out["prop"] = f.prop ? Json(f.prop.value) : Json(nullptr);
  out["pixel"] = f.pixel > 0 ? Json(f.pixel) : Json(nullptr);
  out["source"] = f.source;
  out["remedy"] = f.remedyKey;
  out["advice"] = adviceText(d, f);
  out["assumed"] = idsJson(d, f.assumed);
  if (f.leftAsIs) out["left_because"] = f.leftReason;
  return out;
}

Json totalsJson(const Digest& d) {
  const takeoff::Totals& t = d.a.totals;
  const Totals amps = supplyTotals(d.a);
  Json out;
  out["pixels"] = t.pixels;
  out["props"] = t.props;
  out["runs"] = t.runs;
  out["ports"] = t.ports;
  out["ports_free"] = t.portsFree;
  out["supplies"] = t.supplies;
  out["feeds"] = t.feeds;
  out["leads"] = t.leads;
  out["lead_length_m"] = base::metres(t.leadLength).si;
  out["amps_limit"] = std::round(amps.limit * 1e4) / 1e4;
  out["amps_full_white"] = std::round(amps.full * 1e4) / 1e4;
  out["brightness_limit"] = d.brightnessLimit();
  out["cost"] = static_cast<double>(t.cost.count) / 1e4;
  out["cost_complete"] = t.costComplete;
  return out;
}

std::string mainsLine(const Digest& d) {
  double amps = 0.0;
  std::int64_t circuits = 0;
  for (const auto& [id, circuit] : d.a.limit.circuits) {
    amps += circuit.amps - circuit.standing;
    circuits += circuit.supplies > 0 ? 1 : 0;
  }
  return say("check_mains", {{"amps", fixed(amps, 1)}, {"circuits", circuits}, {"energy", energyText(d)}});
}

double milli(double value) { return std::round(value * 1e4) / 1e4; }

Json marginsJson(const Digest& d) {
  Json out = Json::array();
  const circuit::Margins* margins = assess::marginsIfKnown(d.a);
  if (margins == nullptr) return out;
  for (const auto& [run, m] : margins->runs) {
    Json one{{"run", run.value},
             {"label", d.label(run)},
             {"run_pixel", m.place},
             {"volts", milli(m.volts)},
             {"limit", milli(m.limit)},
             {"volts_95_in_100_above", milli(m.likely)},
             {"standard_deviation", milli(m.deviation)},
             {"chance_low", static_cast<double>(std::llround(m.chance * 1e6)) / 1e6}};
    one["shares"] = Json::array();
    for (const auto& share : m.shares)
      one["shares"].push_back({{"of", share.unknown.of ? Json(share.unknown.of.value) : Json(nullptr)},
                               {"what", findings::unknownText(d.a, share.unknown)},
                               {"share", milli(share.share)}});
    out.push_back(std::move(one));
  }
  return out;
}

const char* originWord(yard::Origin origin) {
  return yard::words(origin)[static_cast<std::size_t>(origin)].name;
}

Json measuredJson(const Digest& d) {
  static constexpr const char* kStates[] = {"used", "does_not_fit", "not_wired", "not_fed", "no_figure"};
  Json out;
  out["readings"] = Json::array();
  for (const circuit::Reading& r : d.a.fit.readings)
    out["readings"].push_back({{"measurement", r.measurement.value},
                               {"where", findings::placeOfMeasurement(d.a, r.measurement)},
                               {"unit", r.volts ? "V" : "A"},
                               {"state", kStates[static_cast<std::size_t>(r.state)]},
                               {"measured", milli(r.measured)},
                               {"planned", milli(r.planned)},
                               {"expected", milli(r.expected)},
                               {"deviations", milli(r.off)}});
  out["figures"] = Json::array();
  for (const circuit::Unknown& u : d.a.fit.belief.unknowns)
    if (d.a.fit.taught(u))
      out["figures"].push_back({{"what", findings::unknownText(d.a, u)},
                                {"of", u.of ? Json(u.of.value) : Json(nullptr)},
                                {"origin", originWord(yard::Origin::Measured)}});
  return out;
}

Json originsJson(const Digest& d) {
  Json out = Json::array();
  std::set<Id> products;
  for (const auto& [id, prop] : yard::all<yard::Prop>(d.y))
    if (const Id product = yard::productIdOf(d.y, *prop)) products.insert(product);
  for (const auto& [id, supply] : yard::all<yard::Supply>(d.y)) products.insert(id);
  for (const Id id : products)
    out.push_back(
        {{"id", id.value}, {"label", d.label(id)}, {"origin", originWord(assess::originOf(d.a, id))}});
  return out;
}

/// The runs most likely to go low, and what was measured.
std::string marginsText(const Digest& d) {
  constexpr std::size_t kMostRuns = 5;
  constexpr double kWorthALine = 0.001;
  std::string out;
  const circuit::Margins* margins = assess::marginsIfKnown(d.a);
  std::vector<std::pair<double, Id>> rising;
  if (margins != nullptr)
    for (const auto& [run, m] : margins->runs)
      if (m.chance >= kWorthALine && !m.shares.empty()) rising.emplace_back(-m.chance, run);
  std::sort(rising.begin(), rising.end());
  if (margins != nullptr && !margins->runs.empty()) out += "\n" + say("check_margins") + "\n";
  if (margins != nullptr && !margins->runs.empty() && rising.empty())
    out += "    " + say("check_margins_sure") + "\n";
  for (std::size_t i = 0; i < std::min(kMostRuns, rising.size()); ++i) {
    const circuit::RunMargin& m = margins->runs.at(rising[i].second);
    out += "    " +
           say("check_margin_line",
               {{"run", d.label(rising[i].second)},
                {"volts", base::toVoltage({m.volts})},
                {"likely", base::toVoltage({m.likely})},
                {"limit", base::toVoltage({m.limit})},
                {"chance", base::Ratio{base::roundedCount(m.chance * 1e3) * 1000}},
                {"most", findings::unknownText(d.a, m.shares.front().unknown)},
                {"share", base::Ratio{base::roundedCount(m.shares.front().share * 100.0) * 10'000}}}) +
           "\n";
  }
  std::string taught;
  for (const circuit::Unknown& u : d.a.fit.belief.unknowns)
    if (d.a.fit.taught(u)) taught += (taught.empty() ? "" : ", ") + findings::unknownText(d.a, u);
  if (!taught.empty()) out += "    " + say("check_taught", {{"what", taught}}) + "\n";
  return out;
}

}  // namespace

std::string checkText(const assess::Assessment& assessment, const findings::Report& report) {
  const Digest d(assessment);
  const Totals amps = supplyTotals(assessment);
  std::string out = say("check_head", {{"yard", d.yardName()}, {"counts", countsLine(report)}}) + "\n";
  if (report.findings.empty()) out += say("check_clean") + "\n";
  for (const findings::Group& group : report.groups) out += "\n" + groupText(d, report, group);
  if (!report.left.empty()) out += "\n" + say("check_left") + "\n";
  for (const Finding& finding : report.left)
    out += "    " +
           say("check_left_line",
               {{"sentence", base::text(finding.sentence, d.units)}, {"reason", finding.leftReason}}) +
           "\n";
  if (!report.notWired.empty())
    out += "\n" +
           say("check_not_wired", {{"count", static_cast<std::int64_t>(report.notWired.size())},
                                   {"names", namesOf(d, report.notWired)}}) +
           "\n";
  out += marginsText(d);
  const takeoff::Totals& t = assessment.totals;
  out += "\n" +
         say("check_totals", {{"pixels", t.pixels},
                              {"props", t.props},
                              {"runs", t.runs},
                              {"supplies", t.supplies},
                              {"free", t.portsFree},
                              {"limit_amps", fixed(amps.limit, 1)},
                              {"full_amps", fixed(amps.full, 1)},
                              {"brightness", d.set.brightnessLimit},
                              {"wire", base::longLengthText(t.leadLength, d.units)}}) +
         "\n";
  if (t.supplies > 0) out += mainsLine(d) + "\n";
  out += say("not_checked_line", {{"what", say("not_checked")}}) + "\n";
  return out + say(report.failing ? "check_failing" : "check_passing") + "\n";
}

std::string checkJson(const assess::Assessment& assessment, const findings::Report& report) {
  const Digest d(assessment);
  Json out;
  out["format"] = "yardwright-check";
  out["version"] = 1;
  out["yard"] = yard::site(d.y).name;
  if (d.idea() != nullptr) out["idea"] = d.idea()->name;
  out["failing"] = report.failing;
  for (const Severity severity : kSeverities) out["counts"][wordOf(severity)] = countOf(report, severity);
  out["groups"] = Json::array();
  for (const findings::Group& group : report.groups)
    out["groups"].push_back({{"rule", group.rule},
                             {"label", ruleLabel(group.rule)},
                             {"severity", wordOf(group.severity)},
                             {"sentence", base::text(group.sentence, d.units)},
                             {"findings", group.findings}});
  out["findings"] = Json::array();
  for (const Finding& finding : report.findings) out["findings"].push_back(findingJson(d, finding));
  out["left_as_is"] = Json::array();
  for (const Finding& finding : report.left) out["left_as_is"].push_back(findingJson(d, finding));
  out["not_wired"] = idsJson(d, report.notWired);
  out["totals"] = totalsJson(d);
  out["mains"] = mainsJson(assessment);
  out["margins"] = marginsJson(d);
  out["measured"] = measuredJson(d);
  out["origins"] = originsJson(d);
  out["conditions"] = conditionsJson(d);
  out["faults"] = faultsJson(d);
  out["not_checked"] = say("not_checked");
  return out.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

Table findingsTable(const assess::Assessment& assessment, const findings::Report& report) {
  const Digest d(assessment);
  TableBuilder t("findings");
  t.words("severity").words("rule").words("subject").words("sentence").words("figure").words("limit");
  t.number("used", "%").words("source").words("remedy");
  for (const Finding& f : report.findings)
    t.row(f.subjects.empty() ? Id{} : f.subjects.front(),
          {findings::label(f.severity), f.rule, f.subjects.empty() ? "" : d.label(f.subjects.front()),
           base::text(f.sentence, d.units), base::text(f.figure, d.units), base::text(f.limit, d.units),
           fixed(f.used * 100.0, 0), f.source, adviceText(d, f)});
  return t.take();
}

}  // namespace yw::papers
