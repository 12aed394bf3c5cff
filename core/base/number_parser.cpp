#include "core/base/number_parser.h"

#include <algorithm>

#include "core/base/number_text.h"

namespace yw::base {
namespace {

constexpr char kTrueMinus = '\x01';  // U+2212 while parsing: subtracts wherever it stands
constexpr std::size_t kLongest = 200;

struct Spelling {
  std::string_view typed, plain;
};
constexpr Spelling kSpellings[] = {{"\u2019", "'"},    {"\u2018", "'"},  {"\u2032", "'"}, {"\u201d", "\""},
                                   {"\u201c", "\""},   {"\u2033", "\""}, {"\u00d7", "*"}, {"\u00f7", "/"},
                                   {"\u2212", "\x01"}, {"\u00a0", " "},  {"\u2009", " "}, {"\u202f", " "},
                                   {"\t", " "},        {"\r", " "},      {"\n", " "}};
constexpr Spelling kFractions[] = {{"\u00bd", "1/2"}, {"\u00bc", "1/4"}, {"\u00be", "3/4"}, {"\u215b", "1/8"},
                                   {"\u215c", "3/8"}, {"\u215d", "5/8"}, {"\u215e", "7/8"}};

bool digit(char c) { return c >= '0' && c <= '9'; }
bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

const Spelling* spellingAt(std::string_view rest, const Spelling* first, const Spelling* last) {
  const Spelling* found =
      std::find_if(first, last, [&](const Spelling& s) { return rest.starts_with(s.typed); });
  return found == last ? nullptr : found;
}

/// One spelling for each mark, so that the grammar sees only ASCII (and the letters of units).
std::string plainSpelling(std::string_view typed) {
  std::string out;
  while (!typed.empty()) {
    if (const Spelling* s = spellingAt(typed, std::begin(kSpellings), std::end(kSpellings))) {
      out += s->plain;
      typed.remove_prefix(s->typed.size());
    } else if (const Spelling* f = spellingAt(typed, std::begin(kFractions), std::end(kFractions))) {
      if (!out.empty() && digit(out.back())) out += ' ';
      out += f->plain;
      typed.remove_prefix(f->typed.size());
    } else {
      out += typed.front() == kTrueMinus ? '?' : typed.front();
      typed.remove_prefix(1);
    }
  }
  for (std::size_t at = 0; (at = out.find("''", at)) != std::string::npos;) out.replace(at, 2, "\"");
  return out;
}

/// A part of the expression: a plain number, or one in units of the rules.
struct Value {
  Rational size;
  bool united = false;            ///< carries a unit
  std::optional<Rational> ofOne;  ///< the unit's size, when this is one plain number with one unit
};

struct Number {
  Rational size;
  bool plain = true;      ///< one decimal, not `3 1/2`
  bool fraction = false;  ///< only a fraction, `1/2`
};

class Parser {
 public:
  Parser(std::string_view typed, const NumberRules& rules)
      : typed_(typed), text_(plainSpelling(typed)), rules_(rules) {}

  Result<Rational> whole() {
    if (text_.size() > kLongest) return refusal("number_too_long");
    skipBlanks();
    if (atEnd()) return fail(ErrorCode::BadInput, {"number_empty", {}});
    Value value = sumOf();
    skipBlanks();
    if (!error_ && !atEnd()) refuseRest();
    if (!error_ && !value.united) value = withBareUnit(value);
    if (error_) return tl::unexpected<Error>(*error_);
    return value.size;
  }

 private:
  // --- the text -----------------------------------------------------------------------------------------
  bool atEnd() const { return at_ >= text_.size(); }
  char here(std::size_t ahead = 0) const { return at_ + ahead < text_.size() ? text_[at_ + ahead] : '\0'; }
  bool skipBlanks() {
    const std::size_t before = at_;
    while (here() == ' ') ++at_;
    return at_ != before;
  }
  bool taken(char c) {
    if (error_ || here() != c) return false;
    ++at_;
    return true;
  }

  // --- refusals -----------------------------------------------------------------------------------------
  tl::unexpected<Error> refusal(const char* key, std::map<std::string, Fact> facts = {}) const {
    facts.emplace("typed", std::string(typed_));
    return fail(ErrorCode::BadInput, {key, std::move(facts)});
  }
  Value refuse(const char* key, std::map<std::string, Fact> facts = {}) {
    if (!error_) error_ = refusal(key, std::move(facts)).value();
    return {};
  }
  Value refuseTwoReadings(Rational first, Rational second) {
    const auto one = first.rounded(), other = second.rounded();
    if (!one || !other) return refuse("number_too_large");
    return refuse("number_two_readings",
                  {{"part", rest(partStart_, at_)}, {"first", Length{*one}}, {"second", Length{*other}}});
  }
  std::string rest(std::size_t from, std::size_t to) const {
    std::string part = text_.substr(from, to - from);
    while (!part.empty() && part.back() == ' ') part.pop_back();
    for (std::size_t at = 0; (at = part.find(kTrueMinus, at)) != std::string::npos;)
      part.replace(at, 1, "\u2212");
    return part;
  }
  Value refuseRest() {
    if (atEnd()) return refuse("number_ends_early");
    const std::string part = rest(at_, text_.size());
    if (here() == ')') return refuse("number_bracket_not_opened");
    if (digit(here()) || here() == '.' || here() == ',')
      return refuse("number_two_side_by_side", {{"rest", part}});
    if (letter(here())) {
      std::size_t end = at_;
      while (end < text_.size() && letter(text_[end])) ++end;
      return refuse("number_unit_unknown", {{"unit", rest(at_, end)}});
    }
    return refuse("number_does_not_fit", {{"rest", part}});
  }
  /// Something else stands where a number must.
  Value refuseMissing() {
    const std::size_t start = at_;
    if (takenUnit()) return refuse("number_missing", {{"unit", rest(start, at_)}});
    if (here() == ')') return refuse("number_does_not_fit", {{"rest", rest(at_, text_.size())}});
    return refuseRest();
  }
  Rational checked(const std::optional<Rational>& result) {
    if (!result) refuse("number_too_large");
    return result.value_or(Rational{});
  }

  // --- the grammar --------------------------------------------------------------------------------------
  Value sumOf() {
    Value left = termOf();
    for (skipBlanks(); !error_; skipBlanks()) {
      const bool plus = taken('+');
      if (!plus && !taken('-') && !taken(kTrueMinus)) return left;
      Value right = termOf();
      if (error_) return {};
      if (left.united != right.united)
        (left.united ? right : left) = withBareUnit(left.united ? right : left);
      left = {
          checked(plus ? sum(left.size, right.size) : difference(left.size, right.size)), left.united, {}};
    }
    return left;
  }

  Value termOf() {
    Value left = factorOf();
    for (skipBlanks(); !error_; skipBlanks()) {
      const bool times = taken('*');
      if (!times && !taken('/')) return left;
      const Value right = factorOf();
      if (!error_) left = times ? multiplied(left, right) : divided(left, right);
    }
    return left;
  }

  Value multiplied(const Value& a, const Value& b) {
    if (a.united && b.united) return refuse("number_unit_times_unit");
    return {checked(product(a.size, b.size)), a.united || b.united, {}};
  }

  Value divided(const Value& a, const Value& b) {
    if (b.size.num == 0) return refuse("number_divided_by_zero");
    if (!b.united) return {checked(quotient(a.size, b.size)), a.united, {}};
    if (a.united || !b.ofOne) return refuse("number_divided_by_unit");
    const Rational divisor = checked(quotient(b.size, *b.ofOne));
    if (error_) return {};
    const Rational ratio = checked(quotient(a.size, divisor));
    return {checked(product(ratio, *b.ofOne)), true, {}};
  }

  Value factorOf() {
    bool negative = false;
    for (skipBlanks(); here() == '+' || here() == '-' || here() == kTrueMinus; skipBlanks()) {
      negative = negative != (here() != '+');
      ++at_;
    }
    Value value = primaryOf();
    if (negative) value.size.num = -value.size.num;
    return value;
  }

  Value primaryOf() {
    if (error_) return {};
    if (!taken('(')) return quantityOf();
    Value inside = sumOf();
    skipBlanks();
    if (!error_ && !taken(')')) return atEnd() ? refuse("number_bracket_not_closed") : refuseRest();
    const std::size_t before = at_;
    skipBlanks();
    inside.ofOne.reset();
    const UnitWord* unit = error_ ? nullptr : takenUnit();
    if (!unit) {
      at_ = before;
      return inside;
    }
    if (inside.united) return refuse("number_unit_times_unit");
    return {checked(product(inside.size, unit->size)), true, {}};
  }

  // --- 12' 6 1/2" ---------------------------------------------------------------------------------------
  Value quantityOf() {
    partStart_ = at_;
    const std::optional<Number> number = takenNumber(false);
    if (!number) return error_ ? Value{} : refuseMissing();
    const std::size_t before = at_;
    skipBlanks();
    const UnitWord* unit = takenUnit();
    if (!unit) {
      at_ = before;
      return {number->size, false, {}};
    }
    Value value{checked(product(number->size, unit->size)), true, {}};
    if (number->plain) value.ofOne = unit->size;
    while (!error_ && unit && unit->rank != 0) unit = addedPiece(value, *unit);
    return value;
  }

  /// Reads the next smaller piece of a compound, or leaves the text where it was and gives nothing.
  const UnitWord* addedPiece(Value& value, const UnitWord& larger) {
    const std::size_t before = at_;
    const bool blank = skipBlanks();
    const bool hyphen = !blank && here() == '-' && digit(here(1));
    if (hyphen) ++at_;
    const std::optional<Number> number =
        digit(here()) || here() == '.' || here() == ',' ? takenNumber(true) : std::nullopt;
    if (!number) return backTo(before);
    const std::size_t afterNumber = at_;
    skipBlanks();
    const UnitWord* unit = takenUnit();
    if (!unit) at_ = afterNumber;
    if (hyphen) return joinedByHyphen(value, larger, *number, unit, before);
    if (unit && follows(*unit, larger)) return joined(value, *number, unit->size, unit);
    if (unit || !isFeet(larger)) return backTo(before);
    const Rational size = checked(product(number->size, rules_.inch));
    if (!error_ && number->fraction) {
      // 12'6/8 is 12 ft and 6/8 in, or an eighth of 12 ft 6 in: nobody can tell.
      refuseBareFraction(value.size, before, number->size);
      return nullptr;
    }
    value = {checked(sum(value.size, size)), true, {}};
    return nullptr;
  }

  /// Inches after feet, centimeters after meters, never inches after meters.
  static bool follows(const UnitWord& smaller, const UnitWord& larger) {
    return smaller.rank != 0 && smaller.system == larger.system && smaller.rank < larger.rank;
  }

  const UnitWord* backTo(std::size_t place) {
    at_ = place;
    return nullptr;
  }

  const UnitWord* joined(Value& value, const Number& number, const Rational& unitSize, const UnitWord* unit) {
    const Rational size = checked(product(number.size, unitSize));
    if (!error_) value = {checked(sum(value.size, size)), true, {}};
    return unit;
  }

  /// 12'-6" is how drawings write 12 ft 6 in, and a fraction is joined by the rule; 10'-2' subtracts; where
  /// both are usual the person is asked.
  const UnitWord* joinedByHyphen(Value& value, const UnitWord& larger, const Number& number,
                                 const UnitWord* unit, std::size_t before) {
    const bool afterFeet = isFeet(larger);
    const bool afterInches = isInches(larger);
    const bool inches = unit && isInches(*unit);
    if (afterFeet && inches && ((larger.mark && unit->mark) || number.fraction))
      return joined(value, number, unit->size, unit);
    if ((afterFeet && (inches || !unit)) || (afterInches && inches && number.fraction)) {
      const Rational size = checked(product(number.size, rules_.inch));
      const Rational other = checked(product(number.size, unit ? unit->size : rules_.bareUnit));
      if (!error_) refuseTwoReadings(checked(sum(value.size, size)), checked(difference(value.size, other)));
      return nullptr;
    }
    return backTo(before);
  }

  void refuseBareFraction(const Rational& larger, std::size_t numberStart, const Rational& fraction) {
    const Rational joinedSize = checked(sum(larger, checked(product(fraction, rules_.inch))));
    // The other reading: the whole number as inches, then everything divided.
    std::size_t slash = text_.find('/', numberStart);
    std::int64_t top = 0, bottom = 0;
    for (std::size_t i = numberStart; i < slash; ++i)
      if (digit(text_[i])) top = top * 10 + (text_[i] - '0');
    for (std::size_t i = slash + 1; i < at_; ++i) bottom = bottom * 10 + (text_[i] - '0');
    const Rational inchesToo = checked(sum(larger, checked(product({top, 1}, rules_.inch))));
    if (!error_) refuseTwoReadings(joinedSize, checked(quotient(inchesToo, {bottom, 1})));
  }

  // --- numbers and units --------------------------------------------------------------------------------
  Value withBareUnit(const Value& value) { return {checked(product(value.size, rules_.bareUnit)), true, {}}; }

  std::size_t digitsAt(std::size_t from) const {
    std::size_t end = from;
    while (end < text_.size() && digit(text_[end])) ++end;
    return end - from;
  }

  /// `1/2` without blanks, less than one, at `from`; the length of its text, 0 when there is none.
  std::size_t fractionAt(std::size_t from) const {
    const std::size_t top = digitsAt(from);
    if (top == 0 || top > 6 || from + top >= text_.size() || text_[from + top] != '/') return 0;
    const std::size_t bottom = digitsAt(from + top + 1);
    if (bottom == 0 || bottom > 6) return 0;
    const std::size_t end = from + top + 1 + bottom;
    if (end < text_.size() && (text_[end] == '.' || text_[end] == ',')) return 0;
    const Rational value = fractionValue(from);
    return value.den != 1 && value.num < value.den ? end - from : 0;
  }
  Rational fractionValue(std::size_t from) const {
    const std::size_t top = digitsAt(from);
    return Rational::make(wholeAt(from), wholeAt(from + top + 1)).value_or(Rational{});
  }
  std::int64_t wholeAt(std::size_t from) const {
    std::int64_t value = 0;
    for (std::size_t i = from; i < text_.size() && digit(text_[i]); ++i)
      value = value * 10 + (text_[i] - '0');
    return value;
  }

  /// At the start of a quantity `1/2` is left to the division, which gives the same; inside a compound it is
  /// read here.
  std::optional<Number> takenNumber(bool inCompound) {
    if (inCompound)
      if (const std::size_t length = fractionAt(at_)) {
        const Rational value = fractionValue(at_);
        at_ += length;
        return Number{value, false, true};
      }
    const std::size_t start = at_;
    const std::optional<Rational> size = takenDecimal();
    if (!size) return std::nullopt;
    if (at_ - start != digitsAt(start)) return Number{*size, true, false};
    std::size_t next = at_;
    while (next < text_.size() && text_[next] == ' ') ++next;
    if (next == at_ && here() == '-') ++next;
    const std::size_t length = next == at_ ? 0 : fractionAt(next);
    if (length == 0) return Number{*size, true, false};
    const Rational mixed = checked(sum(*size, fractionValue(next)));
    at_ = next + length;
    return Number{mixed, false, false};
  }

  std::optional<Rational> takenDecimal() {
    const std::size_t start = at_;
    const std::size_t before = digitsAt(at_);
    std::size_t after = 0;
    at_ += before;
    if ((here() == '.' || here() == ',') && digit(here(1))) {
      const char separator = here();
      after = digitsAt(at_ + 1);
      at_ += 1 + after;
      if (here() == '.' || here() == ',') return refusedThousands(start);
      const bool grouping =
          separator == ',' && after == 3 && before >= 1 && before <= 3 && text_[start] != '0';
      if (grouping) return refusedThousands(start);
    }
    if (before + after == 0) return std::nullopt;
    return decimalValue(start, after);
  }

  Rational decimalValue(std::size_t start, std::size_t after) {
    Rational value, scale{1, 1};
    for (std::size_t i = start; i < at_ && !error_; ++i)
      if (digit(text_[i])) value = checked(sum(checked(product(value, {10, 1})), {text_[i] - '0', 1}));
    for (std::size_t i = 0; i < after && !error_; ++i) scale = checked(product(scale, {10, 1}));
    return error_ ? Rational{} : checked(quotient(value, scale));
  }

  /// `1,000` can be 1 or 1000; with more marks there is no telling which is the decimal one.
  std::optional<Rational> refusedThousands(std::size_t start) {
    while (digit(here()) || here() == '.' || here() == ',') ++at_;
    const std::string part = rest(start, at_);
    if (std::count_if(part.begin(), part.end(), [](char c) { return !digit(c); }) > 1) {
      refuse("number_thousands_marks", {{"part", part}});
      return std::nullopt;
    }
    const std::size_t comma = part.find(',');
    std::string decimals = part.substr(comma + 1);
    const std::string joinedDigits = part.substr(0, comma) + decimals;
    while (!decimals.empty() && decimals.back() == '0') decimals.pop_back();
    const std::string asDecimal = part.substr(0, comma) + (decimals.empty() ? "" : "." + decimals);
    refuse("number_comma_readings", {{"part", part}, {"first", asDecimal}, {"second", joinedDigits}});
    return std::nullopt;
  }

  bool unitFits(const UnitWord& unit) const {
    const std::size_t n = unit.text.size();
    if (text_.size() - at_ < n) return false;
    for (std::size_t i = 0; i < n; ++i) {
      const char typed = text_[at_ + i];
      if (unit.exactCase ? typed != unit.text[i] : lower(typed) != lower(unit.text[i])) return false;
    }
    return !letter(unit.text.back()) || !letter(here(n));
  }

  const UnitWord* takenUnit() {
    const UnitWord* best = nullptr;
    if (!atEnd())
      for (const UnitWord& unit : rules_.units)
        if (unitFits(unit) && (!best || unit.text.size() > best->text.size())) best = &unit;
    if (best) at_ += best->text.size();
    return best;
  }

  bool isFeet(const UnitWord& unit) const {
    return unit.system == rules_.feetSystem && unit.rank == kFootRank;
  }
  bool isInches(const UnitWord& unit) const {
    return unit.system == rules_.feetSystem && unit.rank == kInchRank;
  }

  std::string_view typed_;
  std::string text_;
  const NumberRules& rules_;
  std::size_t at_ = 0;
  std::size_t partStart_ = 0;
  std::optional<Error> error_;
};

}  // namespace

Result<Rational> parseTyped(std::string_view typed, const NumberRules& rules) {
  return Parser(typed, rules).whole();
}

}  // namespace yw::base
