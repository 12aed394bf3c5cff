#include "core/papers/words.h"

#include <fmt/format.h>

#include <cmath>

namespace yw::papers {

std::string say(const std::string& key, const Facts& facts) { return base::text({"papers_" + key, facts}); }

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) return "";
  std::string digits = fmt::format("{:.{}f}", value, decimals);
  if (digits.front() == '-' && digits.find_first_not_of("-0.") == std::string::npos) digits.erase(0, 1);
  return digits;
}

std::string trimmed(double value, int mostDecimals) {
  std::string digits = fixed(value, mostDecimals);
  if (digits.find('.') == std::string::npos) return digits;
  while (digits.back() == '0') digits.pop_back();
  if (digits.back() == '.') digits.pop_back();
  return digits;
}

std::string markupText(const std::string& text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        if (static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t') out += c;
    }
  }
  return out;
}

}  // namespace yw::papers
