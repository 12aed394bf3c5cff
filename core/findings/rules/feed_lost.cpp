// Verdict: with one fuse, feed, port or supply gone, what is left carries more than its fuse or wire may, or
// leaves pixels short of volts. At the brightness limit: a show goes on while a fuse is out.
#include "core/circuit/fuse_curve.h"
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

std::string names(const assess::Assessment& a, const std::vector<Id>& ids) {
  constexpr std::size_t kMost = 4;
  std::string text;
  for (std::size_t i = 0; i < std::min(ids.size(), kMost); ++i)
    text += (text.empty() ? "" : ", ") + label(a, ids[i]);
  return text;
}

/// Wire that goes over: a cable by its end, or a string by its prop.
std::string wireName(const assess::Assessment& a, const circuit::LossFigure& loss) {
  if (loss.wireGate) return label(a, loss.wireGate);
  const auto layout = a.layouts.find(loss.wireAt.run);
  if (layout == a.layouts.end()) return label(a, loss.lost);
  const Id prop = layout->second->pixels[static_cast<std::size_t>(loss.wireAt.place) - 1].prop;
  return label(a, prop ? prop : loss.wireAt.run);
}

void advise(const assess::Assessment& a, const circuit::LossFigure& loss, Finding& finding) {
  finding.advice = {loss.spares.empty() ? "feed_lost_advice" : "feed_lost_spare",
                    {{"lost", label(a, loss.lost)}, {"spares", names(a, loss.spares)}}};
}

void tooMuch(const assess::Assessment& a, const circuit::LossFigure& loss, Finding& finding) {
  const bool wire = loss.wireShare > loss.nextShare;
  finding.used = std::max(loss.wireShare, loss.nextShare);
  finding.figure = base::toCurrent({wire ? loss.wireAmps : loss.nextAmps});
  finding.limit = wire ? base::toCurrent({loss.wireLimit}) : loss.nextFuse;
  const char* key = wire ? "feed_lost_wire" : loss.follows ? "feed_lost_follows" : "feed_lost_fuse";
  finding.sentence = {key,
                      {{"lost", label(a, loss.lost)},
                       {"next", wire ? wireName(a, loss) : label(a, loss.next)},
                       {"amps", finding.figure},
                       {"limit", finding.limit},
                       {"pixels", loss.follows ? loss.afterwards : loss.dark + loss.low}}};
}

void tooLow(const assess::Assessment& a, const circuit::LossFigure& loss, Finding& finding) {
  finding.used = loss.volts > 0.0 ? loss.lowest / loss.volts : 2.0;
  finding.figure = base::toVoltage({loss.volts});
  finding.limit = base::toVoltage({loss.lowest});
  finding.sentence = {"feed_lost_low",
                      {{"lost", label(a, loss.lost)},
                       {"dark", loss.dark},
                       {"low", loss.low},
                       {"prop", label(a, finding.prop)},
                       {"pixel", finding.pixel},
                       {"volts", finding.figure},
                       {"limit", finding.limit}}};
}

}  // namespace

void feedLost(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  const double usable = base::fraction(settings(a.yard).fuseUsable);
  for (const auto& [id, loss] : a.faults().lost) {
    // Up to 110 % a blade fuse lasts 100 h or more.
    const bool over = loss.follows || loss.wireShare > 1.0 + 1e-6;
    const bool close = loss.nextShare > usable + 1e-6;
    if (!over && !close && loss.low == 0) continue;
    Finding finding = begin(a, rule, over ? Severity::Danger : Severity::CloseToLimit, id);
    finding.condition = kOneLost;
    if (loss.worst.run) pointAt(a, finding, loss.worst.run, loss.worst.place);
    if (over || close)
      tooMuch(a, loss, finding);
    else
      tooLow(a, loss, finding);
    advise(a, loss, finding);
    out.push_back(std::move(finding));
  }
}

}  // namespace yw::findings::verdicts
