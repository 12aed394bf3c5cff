#include "core/base/message.h"

#include <algorithm>
#include <cmath>

#include "core/base/number_text.h"
#include "core/base/resource.h"
#include "core/base/result.h"

namespace yw::base {
namespace {

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && (s.front() == ' ' || s.front() == '\t')) s.remove_prefix(1);
  while (!s.empty() && (s.back() == ' ' || s.back() == '\t' || s.back() == '\r')) s.remove_suffix(1);
  return s;
}

void readWording(std::string_view bytes, std::map<std::string, std::string, std::less<>>& wording) {
  while (!bytes.empty()) {
    const std::size_t end = std::min(bytes.find('\n'), bytes.size());
    const std::string_view line = trimmed(bytes.substr(0, end));
    bytes.remove_prefix(std::min(end + 1, bytes.size()));
    const std::size_t equals = line.find('=');
    if (line.empty() || line.front() == '#' || equals == std::string_view::npos) continue;
    wording.emplace(trimmed(line.substr(0, equals)), trimmed(line.substr(equals + 1)));
  }
}

const std::map<std::string, std::string, std::less<>>& allWording() {
  static const auto wording = [] {
    std::map<std::string, std::string, std::less<>> all;
    for (const Resource& resource : resources())
      if (resource.path.starts_with("messages/")) readWording(resource.bytes, all);
    return all;
  }();
  return wording;
}

/// Three significant figures where that says something, no trailing zeros.
std::string scaled(double value, const char* unit) {
  const double size = std::abs(value);
  std::string digits = numberText(value, size >= 100 ? 0 : size >= 10 ? 1 : 2);
  if (digits.find('.') != std::string::npos) {
    while (digits.back() == '0') digits.pop_back();
    if (digits.back() == '.') digits.pop_back();
  }
  return digits + " " + unit;
}

struct FactText {
  UnitSystem units;
  std::string operator()(std::int64_t v) const { return numberText(static_cast<double>(v), 0); }
  std::string operator()(const std::string& v) const { return v; }
  std::string operator()(Length v) const { return lengthText(v, units); }
  std::string operator()(Angle v) const { return numberText(static_cast<double>(v.count) * 1e-6, 1) + "°"; }
  std::string operator()(Voltage v) const {
    return numberText(static_cast<double>(v.count) * 1e-6, 2) + " V";
  }
  std::string operator()(Current v) const {
    const double amps = static_cast<double>(v.count) * 1e-6;
    return std::abs(amps) < 0.1 && amps != 0 ? scaled(amps * 1e3, "mA") : numberText(amps, 2) + " A";
  }
  std::string operator()(Resistance v) const {
    const double ohms = static_cast<double>(v.count) * 1e-6;
    return std::abs(ohms) < 1 ? scaled(ohms * 1e3, "mΩ") : scaled(ohms, "Ω");
  }
  std::string operator()(Power v) const { return scaled(static_cast<double>(v.count) * 1e-3, "W"); }
  std::string operator()(Ratio v) const { return scaled(static_cast<double>(v.count) * 1e-4, "%"); }
  std::string operator()(Money v) const { return numberText(static_cast<double>(v.count) * 1e-4, 2); }
  std::string operator()(Duration v) const {
    const double seconds = static_cast<double>(v.count) * 1e-9, size = std::abs(seconds);
    if (size < 1) return scaled(seconds * 1e3, "ms");
    return size < 120    ? scaled(seconds, "s")
           : size < 7200 ? scaled(seconds / 60, "min")
                         : scaled(seconds / 3600, "h");
  }
  std::string operator()(Frequency v) const {
    return scaled(static_cast<double>(v.count) * 1e-3, "frames a second");
  }
  std::string operator()(Temperature v) const { return scaled(static_cast<double>(v.count) * 1e-3, "°C"); }
  std::string operator()(Mass v) const {
    const double kg = static_cast<double>(v.count) * 1e-6;
    return units == UnitSystem::Metric ? scaled(kg, "kg") : scaled(kg / 0.45359237, "lb");
  }
};

}  // namespace

std::string text(const Fact& fact, UnitSystem units) { return std::visit(FactText{units}, fact); }

bool hasWording(const std::string& key) { return allWording().contains(key); }

namespace {

/// What stands in braces at the start of `rest`: `fact`, or `fact|one|several`; empty for a brace that is
/// only a brace.
std::string_view insideBraces(std::string_view rest) {
  const std::size_t close = rest.starts_with('{') ? rest.find('}') : std::string_view::npos;
  if (close == std::string_view::npos) return {};
  const std::string_view inside = rest.substr(1, close - 1), name = inside.substr(0, inside.find('|'));
  const bool plain =
      name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string_view::npos;
  return plain && !name.empty() ? inside : std::string_view{};
}

/// `fact`: its text. `fact|one|several`: the word for its count.
std::string filled(std::string_view inside, const Message& message, UnitSystem units) {
  const std::size_t bar = inside.find('|');
  const std::string name(inside.substr(0, bar));
  const auto fact = message.facts.find(name);
  if (fact == message.facts.end()) return "[" + name + "]";
  if (bar == std::string_view::npos) return text(fact->second, units);
  const std::string_view forms = inside.substr(bar + 1);
  const std::size_t between = forms.find('|');
  const auto* count = std::get_if<std::int64_t>(&fact->second);
  const bool one = count != nullptr && *count == 1;
  if (between == std::string_view::npos) return std::string(forms);
  return std::string(one ? forms.substr(0, between) : forms.substr(between + 1));
}

}  // namespace

std::string text(const Message& message, UnitSystem units) {
  const auto wording = allWording().find(message.key);
  if (wording == allWording().end()) return "[" + message.key + "]";
  std::string out;
  const std::string_view pattern = wording->second;
  for (std::size_t i = 0; i < pattern.size();) {
    const std::string_view inside = insideBraces(pattern.substr(i));
    if (inside.empty()) {
      out += pattern[i++];
      continue;
    }
    out += filled(inside, message, units);
    i += inside.size() + 2;
  }
  return out;
}

namespace {

std::string lower(std::string words) {
  for (char& c : words)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return words;
}

/// A field's own name as words, `ring_diameter`: `ring diameter`; empty for any other place.
std::string fieldWords(const std::string& where) {
  const bool bare = where.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789_") == std::string::npos;
  std::string words = bare ? where : std::string();
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

/// The sentence names the field already: by its name, or it begins with what it calls it.
bool namesField(const std::string& said, const std::string& words, const Message& message) {
  const std::string all = " " + lower(said) + " ";
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  for (std::size_t at = all.find(words); at != std::string::npos; at = all.find(words, at + 1))
    if (!letter(all[at - 1]) && !letter(all[at + words.size()])) return true;
  return std::any_of(message.facts.begin(), message.facts.end(), [&](const auto& fact) {
    const auto* name = std::get_if<std::string>(&fact.second);
    return name != nullptr && !name->empty() && said.starts_with(*name);
  });
}

}  // namespace

std::string text(const Error& error, UnitSystem units) {
  const std::string said = text(error.message, units);
  if (error.where.empty()) return said;
  std::string words = fieldWords(error.where);
  if (words.empty()) return error.where + ": " + said;
  if (namesField(said, words, error.message)) return said;
  if (words[0] >= 'a' && words[0] <= 'z') words[0] = static_cast<char>(words[0] - 'a' + 'A');
  return words + ": " + said;
}

}  // namespace yw::base
