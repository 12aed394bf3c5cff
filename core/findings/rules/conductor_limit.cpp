// Verdict: a conductor, V+ or 0 V, carries more than it may. The 0 V has no fuse, so it is judged on its own.
// At the brightness limit: Danger. Only at full white: close to limit.
#include "core/circuit/code.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

struct Verdict {
  Severity severity = Severity::Note;
  double amps = 0.0;
  const char* condition = kAtLimit;
};

/// True if a fuse of that run opens at full white: then its wires never carry the full-white figure for long.
bool fuseOpens(const assess::Assessment& a, Id runId) {
  const Run* run = find<Run>(a.yard, runId);
  const Port* port = run ? find<Port>(a.yard, run->port) : nullptr;
  const auto amps = run ? a.fullWhite.portAmps.find(run->port) : a.fullWhite.portAmps.end();
  if (port && amps != a.fullWhite.portAmps.end() && port->fuse.count > 0 &&
      amps->second > base::amps(port->fuse).si)
    return true;
  for (const auto& [feed, figure] : a.fullWhite.feeds) {
    const auto* position = find<FusePosition>(a.yard, figure.fusePosition);
    if (figure.run == runId && position && position->fuse.count > 0 &&
        figure.amps > base::amps(position->fuse).si)
      return true;
  }
  return false;
}

Id runOf(const assess::Assessment& a, const routes::CableKey& key) {
  if (find<Run>(a.yard, key.of)) return key.of;
  const auto feed = a.fullWhite.feeds.find(key.of);
  return feed == a.fullWhite.feeds.end() ? Id{} : feed->second.run;
}

/// Worst of the two conditions against `limit`; nothing when both are within it.
bool verdict(double atLimit, double atFull, double limit, Verdict& v) {
  if (atLimit > limit * (1 + 1e-6)) {
    v = {Severity::Danger, atLimit, kAtLimit};
    return true;
  }
  if (atFull > limit * (1 + 1e-6)) {
    v = {Severity::CloseToLimit, atFull, kAtFullWhite};
    return true;
  }
  return false;
}

Finding made(const assess::Assessment& a, const Rule& rule, const Verdict& v, double limit, const Wire& wire,
             Id subject) {
  Finding finding = begin(a, rule, v.severity, subject);
  finding.condition = v.condition;
  finding.used = v.amps / limit;
  finding.figure = base::toCurrent({v.amps});
  finding.limit = base::toCurrent({limit});
  finding.source = circuit::inEdition(settings(a.yard).codeEdition, routes::limitSource(wire));
  return finding;
}

/// Another supply's return is judged by its own rule.
double larger(const circuit::CableFigure& figure) {
  if (foreignReturn(figure)) return std::abs(figure.positiveAmps);
  return std::max(std::abs(figure.positiveAmps), std::abs(figure.zeroAmps));
}

void judgeCables(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [key, figure] : a.limit.cables) {
    const auto cable = a.routes.cables.find(key);
    const auto full = a.fullWhite.cables.find(key);
    if (cable == a.routes.cables.end()) continue;
    const Wire* wire = find<Wire>(a.yard, cable->second.wire);
    if (!wire || key.role == routes::CableRole::MainsCord) continue;
    const double limit = routes::limitOf(*wire).si;
    const bool opens = fuseOpens(a, runOf(a, key));
    Verdict v;
    if (limit <= 0 ||
        !verdict(larger(figure), opens || full == a.fullWhite.cables.end() ? 0.0 : larger(full->second),
                 limit, v))
      continue;
    Finding finding = made(a, rule, v, limit, *wire, key.of);
    finding.condition += " " + cable->second.label;
    const auto& at = v.condition == kAtLimit ? figure : full->second;
    const bool zero = !foreignReturn(at) && std::abs(at.zeroAmps) > std::abs(at.positiveAmps);
    finding.sentence = {"conductor_limit",
                        {{"cable", cable->second.label},
                         {"rail", std::string(zero ? "0 V" : "V+")},
                         {"wire", wire->name},
                         {"amps", finding.figure},
                         {"limit", finding.limit},
                         {"condition", std::string(v.condition)}}};
    finding.advice = {"conductor_limit_advice", {{"cable", cable->second.label}}};
    out.push_back(std::move(finding));
  }
}

void judgeStrings(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [runId, figure] : a.limit.runs) {
    const auto layout = a.layouts.find(runId);
    const auto full = a.fullWhite.runs.find(runId);
    if (layout == a.layouts.end() || full == a.fullWhite.runs.end()) continue;
    const bool opens = fuseOpens(a, runId);
    std::size_t worst = 0;
    Verdict worstVerdict;
    double worstUsed = 0.0, worstLimit = 0.0;
    for (std::size_t i = 1; i < figure.segmentAmps.size(); ++i) {
      const Wire* wire = find<Wire>(a.yard, layout->second->wire[i]);
      if (!wire || layout->second->pixels[i].item != layout->second->pixels[i - 1].item)
        continue;  // jumpers: above
      const double limit = routes::limitOf(*wire).si;
      Verdict v;
      if (limit <= 0 || !verdict(figure.segmentAmps[i], opens ? 0.0 : full->second.segmentAmps[i], limit, v))
        continue;
      const double used = v.amps / limit + (v.severity == Severity::Danger ? 100.0 : 0.0);
      if (used > worstUsed) {
        worstUsed = used;
        worst = i;
        worstVerdict = v;
        worstLimit = limit;
      }
    }
    if (worst == 0) continue;
    const Wire& wire = *find<Wire>(a.yard, layout->second->wire[worst]);
    Finding finding = made(a, rule, worstVerdict, worstLimit, wire, runId);
    pointAt(a, finding, runId, static_cast<std::int64_t>(worst) + 1);
    finding.sentence = {"conductor_limit_string",
                        {{"prop", label(a, finding.prop)},
                         {"pixel", finding.pixel},
                         {"wire", wire.name},
                         {"amps", finding.figure},
                         {"limit", finding.limit},
                         {"condition", std::string(worstVerdict.condition)}}};
    finding.advice = {"conductor_limit_string_advice",
                      {{"prop", label(a, finding.prop)}, {"pixel", finding.pixel}}};
    out.push_back(std::move(finding));
  }
}

}  // namespace

void conductorLimit(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  judgeCables(a, rule, out);
  judgeStrings(a, rule, out);
}

}  // namespace yw::findings::verdicts
