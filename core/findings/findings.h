#pragma once
#include <string>
#include <vector>

#include "core/assess/assess.h"
#include "core/base/message.h"

namespace yw::findings {

using base::Fact;
using base::Id;
using base::Message;

/// Worst first.
enum class Severity { Danger, WontWork, CloseToLimit, Note };
const char* label(Severity severity);  ///< `Danger`, `Won't work`, `Close to limit`, `Note`

/// One thing that is wrong, at one place.
struct Finding {
  std::string rule;  ///< key of the rule table
  Severity severity = Severity::Note;
  std::vector<Id> subjects;  ///< the record it is about first, then what helps to find it
  std::string condition;     ///< `brightness limit`, `full white`, empty
  Message sentence;          ///< reads first
  Fact figure, limit;        ///< as shown beside the bar
  double used = 0.0;         ///< part of the allowance that is used: 1.0 is the limit, above is over
  base::Vec3 place;          ///< m, in the yard
  Id prop;                   ///< and the pixel it is worst at, for selecting; 0: none
  std::int64_t pixel = 0;
  std::string source;       ///< rule with standard and edition, or `common practice`
  std::string remedyKey;    ///< tried by core/propose; empty: nothing to offer
  Message advice;           ///< what would cure it, naming part, place and amount, when nothing can be tried
  std::vector<Id> assumed;  ///< products and supplies whose assumed figures it rests on
  bool leftAsIs = false;
  std::string leftReason;
};

/// Findings of a kind, read as one line.
struct Group {
  std::string rule;
  Severity severity;
  std::vector<std::size_t> findings;  ///< into Report::findings, worst first
  Message sentence;                   ///< of the worst, or `14 runs …`
};

struct Report {
  std::vector<Finding> findings;  ///< worst first: severity, then used, then subject label
  std::vector<Group> groups;      ///< in the order of their worst
  std::vector<Finding> left;      ///< left as is, with reasons
  std::vector<Id> notWired;       ///< props with pixels that no run reaches
  bool failing = false;           ///< Danger or Won't work is present
};

/// One row of the rule table.
struct Rule {
  const char* key;    ///< `low_volts`
  const char* label;  ///< `Low volts`
  const char* file;   ///< where the verdict stands, from the root
  const char* source;
  const char* condition;  ///< which condition judges it
  const char* remedyKey;
  void (*judge)(const assess::Assessment& a, const Rule& rule, std::vector<Finding>& out);
};
const std::vector<Rule>& rules();

Report report(const assess::Assessment& assessment);
std::int64_t countOf(const Report& report, Severity severity);

/// Rule + subject ids + condition: how a finding is recognised again.
std::string identity(const Finding& finding);

}  // namespace yw::findings
