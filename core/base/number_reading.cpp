#include <string>

#include "core/base/number_parser.h"
#include "core/base/number_text.h"

namespace yw::base {
namespace {

constexpr int kFeetInches = 1, kMetric = 2;
constexpr int kMillimetreRank = 1, kCentimetreRank = 2, kMetreRank = 3;

std::vector<UnitWord> lengthWords() {
  std::vector<UnitWord> words;
  const auto add = [&](std::int64_t nanometres, int system, int rank,
                       std::initializer_list<const char*> texts) {
    for (const char* text : texts)
      words.push_back({text, {nanometres, 1}, system, rank, text[0] == '\'' || text[0] == '"', false});
  };
  // The yard is 0.9144 m by the international agreement of 1959: three feet.
  add(3 * kNanometresPerFoot, kFeetInches, kYardRank, {"yd", "yards", "yard"});
  add(kNanometresPerFoot, kFeetInches, kFootRank, {"'", "ft", "ft.", "foot", "feet"});
  add(kNanometresPerInch, kFeetInches, kInchRank, {"\"", "in", "in.", "inch", "inches"});
  add(kNanometresPerMetre, kMetric, kMetreRank, {"m", "meter", "meters", "metre", "metres"});
  add(10'000'000, kMetric, kCentimetreRank, {"cm"});
  add(1'000'000, kMetric, kMillimetreRank, {"mm"});
  return words;
}

std::int64_t nanometresOf(LengthUnit unit) {
  switch (unit) {
    case LengthUnit::Feet:
      return kNanometresPerFoot;
    case LengthUnit::Inches:
      return kNanometresPerInch;
    case LengthUnit::Metres:
      return kNanometresPerMetre;
    case LengthUnit::Centimetres:
      return 10'000'000;
    case LengthUnit::Millimetres:
      return 1'000'000;
  }
  return kNanometresPerFoot;
}

bool startsWithLetter(std::string_view unit) {
  // Any byte of a letter outside ASCII counts, for Ω.
  const auto c = static_cast<unsigned char>(unit.front());
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c >= 0xC3;
}

}  // namespace

Result<Length> parseLength(std::string_view typed, LengthUnit bareUnit) {
  static const std::vector<UnitWord> words = lengthWords();
  const NumberRules rules{words, {nanometresOf(bareUnit), 1}, kFeetInches, {kNanometresPerInch, 1}};
  const Result<Rational> read = parseTyped(typed, rules);
  if (!read) return tl::unexpected<Error>(read.error());
  const std::optional<std::int64_t> count = read->rounded();
  if (!count) return fail(ErrorCode::BadInput, {"number_too_large", {{"typed", std::string(typed)}}});
  return Length{*count};
}

Result<double> parseNumber(std::string_view typed, std::string_view unit) {
  NumberRules rules{{}, {1, 1}, -1, {}};
  if (!unit.empty()) {
    rules.units.push_back({std::string(unit), {1, 1}, 0, 0, false, false});
    if (startsWithLetter(unit)) {
      // Case decides between milli and mega, so the prefixed forms are read as they stand.
      rules.units.push_back({"m" + std::string(unit), {1, 1000}, 0, 0, false, true});
      rules.units.push_back({"k" + std::string(unit), {1000, 1}, 0, 0, false, true});
    }
  }
  const Result<Rational> read = parseTyped(typed, rules);
  if (!read) return tl::unexpected<Error>(read.error());
  return read->value();
}

}  // namespace yw::base
