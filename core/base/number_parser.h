#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/rational.h"
#include "core/base/result.h"

namespace yw::base {

/// A unit that may stand after a number.
struct UnitWord {
  std::string text;   ///< as typed; ASCII letters match without regard to case unless `exactCase`
  Rational size;      ///< in the counted unit (nanometres for lengths)
  int system = 0;     ///< pieces of one compound are of one system: feet and inches, or metric
  int rank = 0;       ///< 12 ft 6 in goes from the larger rank to the smaller; 0: takes part in no compound
  bool mark = false;  ///< ' or "
  bool exactCase = false;
};

inline constexpr int kInchRank = 1, kFootRank = 2, kYardRank = 3;

/// What a field accepts.
struct NumberRules {
  std::vector<UnitWord> units;
  Rational bareUnit;    ///< what a number without a unit counts
  int feetSystem = -1;  ///< the system of feet and inches: after feet a bare number counts inches; -1: none
  Rational inch;        ///< size of an inch; only with a feetSystem
};

/// Reads the whole of `typed` by `rules`; the value counts the unit of the rules.
/// Grammar (blanks are free except where they decide, see below):
///   sum     = term { ("+" | "-") term }
///   term    = factor { ("*" | "/") factor }
///   factor  = { "+" | "-" } primary
///   primary = "(" sum ")" [unit] | quantity
///   quantity = piece { piece }              12' 6", from the larger unit to the smaller
///   piece   = number [unit]
///   number  = decimal | whole " " fraction | whole "-" fraction | fraction
/// A hyphen without blanks before a proper fraction joins; any other subtracts. `a/4ft` with a plain `a`
/// is a quarter of `a` feet, as written by people; to divide by a length is an error.
Result<Rational> parseTyped(std::string_view typed, const NumberRules& rules);

}  // namespace yw::base
