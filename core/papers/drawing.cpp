#include "core/papers/drawing.h"

#include <algorithm>

#include "core/papers/characters.h"
#include "core/papers/font_table.h"

namespace yw::papers {
namespace {

constexpr char32_t kReplacement = 0xFFFD, kNoBreakSpace = 0xA0, kThinSpace = 0x2009, kNarrowSpace = 0x202F;
constexpr double kSlack = 1e-9;  // mm; sums of the same advances may differ in their last bit

/// Length of a UTF-8 sequence by its first byte (RFC 3629); 0: not a first byte.
int sequenceLength(unsigned char first) {
  if (first < 0x80) return 1;
  if (first >= 0xC2 && first < 0xE0) return 2;
  if (first >= 0xE0 && first < 0xF0) return 3;
  if (first >= 0xF0 && first < 0xF5) return 4;
  return 0;
}

/// Advance of a character in ems; one the font lacks counts a whole em.
double emsOf(char32_t code, const FontFace& face) {
  const auto place = std::lower_bound(face.advances.begin(), face.advances.end(), code,
                                      [](const Advance& a, char32_t c) { return a.code < c; });
  if (place == face.advances.end() || place->code != code) return 1.0;
  return static_cast<double>(place->units) / face.unitsPerEm;
}

double widthOf(const std::vector<char32_t>& codes, double size, const FontFace& face) {
  double ems = 0.0;
  for (const char32_t code : codes) ems += emsOf(code, face);
  return ems * size;
}

using Word = std::vector<char32_t>;

std::vector<Word> wordsOf(const std::vector<char32_t>& codes) {
  std::vector<Word> words;
  Word word;
  for (const char32_t code : codes) {
    if (code != U' ') {
      word.push_back(code);
    } else if (!word.empty()) {
      words.push_back(std::move(word));
      word.clear();
    }
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

/// Takes from the front of `word` as much as fits in `width`, at least one character.
Word fittingPart(Word& word, double width, double size, const FontFace& face) {
  double used = 0.0;
  std::size_t n = 0;
  while (n < word.size()) {
    used += emsOf(word[n], face) * size;
    if (used > width + kSlack && n > 0) break;
    ++n;
  }
  Word part(word.begin(), word.begin() + static_cast<std::ptrdiff_t>(n));
  word.erase(word.begin(), word.begin() + static_cast<std::ptrdiff_t>(n));
  return part;
}

void breakParagraph(const std::vector<char32_t>& codes, double width, double size, const FontFace& face,
                    std::vector<std::string>& lines) {
  const double space = emsOf(U' ', face) * size;
  Word line;
  double used = 0.0;
  for (Word& word : wordsOf(codes)) {
    double need = widthOf(word, size, face);
    if (!line.empty() && used + space + need > width + kSlack) {
      lines.push_back(utf8Of(line));
      line.clear();
      used = 0.0;
    }
    while (line.empty() && need > width + kSlack && word.size() > 1) {
      lines.push_back(utf8Of(fittingPart(word, width, size, face)));
      need = widthOf(word, size, face);
    }
    if (word.empty()) continue;
    if (!line.empty()) {
      line.push_back(U' ');
      used += space;
    }
    line.insert(line.end(), word.begin(), word.end());
    used += need;
  }
  lines.push_back(utf8Of(line));
}

}  // namespace

std::vector<char32_t> codePoints(const std::string& utf8) {
  std::vector<char32_t> codes;
  codes.reserve(utf8.size());
  for (std::size_t i = 0; i < utf8.size();) {
    const auto first = static_cast<unsigned char>(utf8[i]);
    const int length = sequenceLength(first);
    char32_t code = length <= 1 ? first : first & (0xFFU >> (length + 1));
    bool good = length > 0 && i + static_cast<std::size_t>(length) <= utf8.size();
    for (int k = 1; good && k < length; ++k) {
      const auto next = static_cast<unsigned char>(utf8[i + static_cast<std::size_t>(k)]);
      good = (next & 0xC0U) == 0x80U;
      code = (code << 6) | (next & 0x3FU);
    }
    codes.push_back(good ? code : kReplacement);
    i += good ? static_cast<std::size_t>(length) : 1;
  }
  return codes;
}

std::string utf8Of(const std::vector<char32_t>& codes) {
  std::string out;
  out.reserve(codes.size());
  for (const char32_t code : codes) {
    if (code < 0x80) {
      out += static_cast<char>(code);
    } else if (code < 0x800) {
      out += static_cast<char>(0xC0U | (code >> 6));
      out += static_cast<char>(0x80U | (code & 0x3FU));
    } else if (code < 0x10000) {
      out += static_cast<char>(0xE0U | (code >> 12));
      out += static_cast<char>(0x80U | ((code >> 6) & 0x3FU));
      out += static_cast<char>(0x80U | (code & 0x3FU));
    } else {
      out += static_cast<char>(0xF0U | (code >> 18));
      out += static_cast<char>(0x80U | ((code >> 12) & 0x3FU));
      out += static_cast<char>(0x80U | ((code >> 6) & 0x3FU));
      out += static_cast<char>(0x80U | (code & 0x3FU));
    }
  }
  return out;
}

bool inFont(const std::string& utf8) {
  const FontFace& face = fontFace(false, false);
  for (const char32_t code : codePoints(utf8)) {
    const auto place = std::lower_bound(face.advances.begin(), face.advances.end(), code,
                                        [](const Advance& a, char32_t c) { return a.code < c; });
    if (place == face.advances.end() || place->code != code) return false;
  }
  return true;
}

std::string printable(const std::string& utf8) {
  std::vector<char32_t> codes = codePoints(utf8);
  for (char32_t& code : codes) {
    if (code == kThinSpace || code == kNarrowSpace) code = kNoBreakSpace;
    if (code < 0x20 && code != U'\n') code = U' ';
  }
  return utf8Of(codes);
}

double textWidth(const std::string& utf8, double size, bool bold, bool mono) {
  return widthOf(codePoints(utf8), size, fontFace(bold, mono));
}

std::vector<std::string> brokenLines(const std::string& utf8, double width, double size, bool bold,
                                     bool mono) {
  std::vector<std::string> lines;
  std::vector<char32_t> paragraph;
  for (const char32_t code : codePoints(utf8)) {
    if (code == U'\n') {
      breakParagraph(paragraph, width, size, fontFace(bold, mono), lines);
      paragraph.clear();
    } else {
      paragraph.push_back(code);
    }
  }
  breakParagraph(paragraph, width, size, fontFace(bold, mono), lines);
  return lines;
}

}  // namespace yw::papers
