// Verdict: a feed lands, or a run begins or ends, past the last pixel of a prop that has become shorter.
#include "core/findings/rule_help.h"
#include "core/findings/rules/rules.h"

namespace yw::findings::verdicts {

using namespace yw::yard;

namespace {

/// 0: the prop is not there, or it cannot be computed (prop_unknown says so).
std::int64_t pixelsOf(const assess::Assessment& a, Id prop) {
  const auto shape = a.shapes.find(prop);
  return shape == a.shapes.end() ? 0 : static_cast<std::int64_t>(shape->second->pixels.size());
}

Finding past(const assess::Assessment& a, const Rule& rule, Severity severity, Id subject, const char* key,
             Id prop, std::int64_t pixel, std::int64_t count) {
  Finding finding = begin(a, rule, severity, subject);
  finding.subjects.push_back(prop);
  finding.prop = prop;
  finding.pixel = count;
  finding.used = static_cast<double>(pixel) / static_cast<double>(count);
  finding.figure = pixel;
  finding.limit = count;
  finding.sentence = {
      key, {{"what", label(a, subject)}, {"prop", label(a, prop)}, {"pixel", pixel}, {"count", count}}};
  finding.advice = {"past_the_end_advice", {{"prop", label(a, prop)}, {"count", count}}};
  return finding;
}

}  // namespace

void pastTheEnd(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out) {
  for (const auto& [id, cable] : all<Cable>(a.yard)) {
    if (cable->to.kind != TerminalKind::PropPixel) continue;
    const std::int64_t count = pixelsOf(a, cable->to.record);
    if (count > 0 && cable->to.pixel > count)
      out.push_back(past(a, rule, Severity::WontWork, id, "feed_past_the_end", cable->to.record,
                         cable->to.pixel, count));
  }
  for (const auto& [id, run] : all<Run>(a.yard))
    for (const RunItem& item : run->items) {
      if (item.kind != RunItemKind::Stretch) continue;
      const std::int64_t count = pixelsOf(a, item.prop);
      if (count == 0 || std::max(item.first, item.last) <= count) continue;
      const bool gone = item.first > count;
      out.push_back(past(a, rule, gone ? Severity::WontWork : Severity::Note, id,
                         gone ? "run_past_the_end" : "run_ends_early", item.prop,
                         gone ? item.first : item.last, count));
    }
}

}  // namespace yw::findings::verdicts
