#pragma once
#include <string>
#include <vector>

#include "core/papers/sheet_pages.h"

namespace yw::papers {

struct CellLine {
  std::string text;
  double size = kTextSize;
  bool bold = false, mono = false;
};

/// A cell: lines of text, a box to tick, or a box to write in; text may have a bar to a tick under it.
struct Cell {
  enum class Kind { Text, Tick, Blank } kind = Kind::Text;
  std::vector<CellLine> lines;
  double used = -1.0;  ///< >= 0: bar
};
Cell idCell(const std::string& id);
Cell textCell(const std::string& text);
Cell noteCell(const std::string& text);
/// First line in text size, the second as a note.
Cell twoLines(const std::string& text, const std::string& note);
Cell tickCell();
Cell blankCell();

struct PaperColumn {
  std::string head;
  Align align = Align::Left;
};

struct PaperRow {
  std::vector<Cell> cells;
  Id record;
  std::string band;  ///< not empty: a heading across the table instead of cells
};

struct PaperTable {
  std::vector<PaperColumn> columns;
  std::vector<PaperRow> rows;
  double rowHeight = 9.0;  ///< least, so that a glove hits it
  PaperTable& column(const std::string& head, Align align = Align::Left) {
    columns.push_back({head, align});
    return *this;
  }
  void row(Id record, std::vector<Cell> cells) { rows.push_back({std::move(cells), record, {}}); }
  void band(Id record, const std::string& words) { rows.push_back({{}, record, words}); }
};

/// Draws it from the sheet's y on; heads stand again on each page, a row is not torn unless it is longer than
/// a page. Columns share the width by what they hold.
void draw(SheetPages& sheet, const PaperTable& table);

/// Column widths for a table `width` mm wide (for tests).
std::vector<double> columnWidths(const PaperTable& table, double width);

}  // namespace yw::papers
