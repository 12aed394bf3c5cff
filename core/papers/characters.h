#pragma once
#include <string>
#include <vector>

namespace yw::papers {

/// Code points of a UTF-8 text; a byte that belongs to none becomes U+FFFD.
std::vector<char32_t> codePoints(const std::string& utf8);
std::string utf8Of(const std::vector<char32_t>& codes);

/// True if every character is in B612, so that the figure of textWidth() is the drawn width.
bool inFont(const std::string& utf8);

/// The same text with what B612 lacks and has a twin for put in its place: thin and narrow spaces become
/// unbreakable spaces.
std::string printable(const std::string& utf8);

}  // namespace yw::papers
