#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "core/base/id.h"

namespace yw::papers {

/// A place on the sheet, millimetres from its upper left corner, y down.
struct Mm {
  double x = 0.0, y = 0.0;
  bool operator==(const Mm&) const = default;
};

/// What a color is for; the painter's theme says which color that is. Magnitude takes Item::magnitude 0..1
/// (cividis).
enum class Role : std::uint8_t {
  Ink,
  SecondInk,
  Paper,
  Accent,
  House,
  Ground,
  KeepOut,
  Frame,
  Pixel,
  DataCable,
  FeedCable,
  MainsCable,
  Magnitude,
  Kind1,
  Kind2,
  Kind3,
  Kind4,
  Kind5,
  Kind6,
  Kind7,
  Kind8,
  Danger,
  Blank
};
enum class Dash : std::uint8_t { Solid, Long, LongDot, Dot, Short };
enum class Align : std::uint8_t { Left, Center, Right };

struct Item {
  enum class Type : std::uint8_t { Line, Area, Text, Cloud, Image, ClipBegin, ClipEnd } type = Type::Line;
  base::Id record;  ///< what it stands for; none: furniture
  Role role = Role::Ink;
  double width = 0.25;  ///< mm of line; Cloud: dot diameter
  Dash dash = Dash::Solid;
  bool filled = false, hatched = false, arrow = false;  ///< Area; arrow at the last point of a Line
  double magnitude = 0.0;
  std::vector<Mm> points;  ///< Line, Area (closed), Cloud, Clip; Text: base line start; Image: two corners
  std::string text;        ///< Text; Image: blob key
  double size = 3.2;       ///< Text: mm of em (9 pt = 3.175)
  bool bold = false, mono = false;
  Align align = Align::Left;
  double turn = 0.0;  ///< Text: degrees anticlockwise
};

/// One sheet of paper.
struct Page {
  double width = 215.9, height = 279.4;  ///< mm
  std::vector<Item> items;
  std::string title;
};
/// One of the sheets of a document.
struct SheetPlace {
  std::size_t firstPage = 0;  ///< index into Document::pages
  std::string hash;           ///< SHA-256 of its content without the frame
};

struct Document {
  std::string title;
  std::string date;  ///< ISO 8601, of the plan's revision; also the PDF's creation date
  std::vector<Page> pages;
  std::vector<SheetPlace> sheets;  ///< as they were asked for; those that are gone have no pages
};

/// Advance of a text in mm at that em size, from B612's own metrics (read at build time): the same
/// everywhere.
double textWidth(const std::string& utf8, double size, bool bold = false, bool mono = false);
/// Broken at spaces so that no line is wider than `width`; a word that is too long is broken where it must
/// be.
std::vector<std::string> brokenLines(const std::string& utf8, double width, double size, bool bold = false,
                                     bool mono = false);

}  // namespace yw::papers
