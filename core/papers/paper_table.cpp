#include "core/papers/paper_table.h"

#include <algorithm>
#include <numeric>

#include "core/papers/characters.h"

namespace yw::papers {
namespace {

constexpr double kPadX = 1.5;
constexpr double kUnbroken = 18.0;  // mm; what is shorter stays on one line
constexpr double kTickSide = 6.5, kBlankWidth = 21.0;
constexpr double kBarHeight = 1.6, kBarWidth = 16.0, kBarRoom = 3.4;
constexpr Type kHeadType{kNoteSize, true};

/// Heights of a table's rows, lower on a sheet that is set tight.
struct Heights {
  double row, pad, step;  ///< mm; mm; of a line, part of its size
  Heights(const PaperTable& table, double tight)
      : row(table.rowHeight * tight), pad(1.1 * tight * tight), step(kLineStep * (2.0 + tight) / 3.0) {}
  double of(const CellLine& line) const { return line.size * step; }
  double of(const std::vector<CellLine>& lines) const {
    double height = 0.0;
    for (const CellLine& line : lines) height += of(line);
    return height;
  }
};

/// Widest word and widest line of a text.
struct Need {
  double least = 0.0, natural = 0.0;
  void take(const std::string& text, double size, bool bold, bool mono) {
    natural = std::max(natural, textWidth(text, size, bold, mono));
    std::size_t begin = 0;
    while (begin < text.size()) {
      const std::size_t end = std::min(text.find(' ', begin), text.size());
      least = std::max(least, textWidth(text.substr(begin, end - begin), size, bold, mono));
      begin = end + 1;
    }
  }
};

Need needOf(const PaperTable& table, std::size_t column) {
  Need need;
  need.take(table.columns[column].head, kNoteSize, true, false);
  need.natural = need.least;  // heads break at every space before they widen a column
  for (const PaperRow& row : table.rows) {
    if (column >= row.cells.size()) continue;
    const Cell& cell = row.cells[column];
    if (cell.kind == Cell::Kind::Tick) need.least = std::max(need.least, kTickSide);
    if (cell.kind == Cell::Kind::Blank) need.least = std::max(need.least, kBlankWidth);
    if (cell.used >= 0.0) need.least = std::max(need.least, kBarWidth);
    for (const CellLine& line : cell.lines) need.take(printable(line.text), line.size, line.bold, line.mono);
  }
  need.least = std::min(std::max(need.least, std::min(need.natural, kUnbroken)), 60.0) + 2 * kPadX;
  need.natural = std::max(need.least, need.natural + 2 * kPadX);
  return need;
}

/// A row ready to draw: each cell's broken lines.
struct SetRow {
  std::vector<std::vector<CellLine>> cells;
  double height = 0.0;
  double firstSize = 0.0;  ///< largest type on the first line: all cells share its base line
  double drop(std::size_t cell) const {
    return cells[cell].empty() ? 0.0 : std::max(0.0, firstSize - cells[cell].front().size) * 0.92;
  }
};

SetRow setRow(const PaperTable& table, const PaperRow& row, const std::vector<double>& widths,
              const Heights& heights) {
  SetRow set;
  set.height = heights.row;
  std::vector<double> extras;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    std::vector<CellLine> lines;
    double extra = 0.0;
    if (c < row.cells.size()) {
      for (const CellLine& line : row.cells[c].lines)
        for (std::string& part :
             brokenLines(printable(line.text), widths[c] - 2 * kPadX, line.size, line.bold, line.mono))
          if (!part.empty()) lines.push_back({std::move(part), line.size, line.bold, line.mono});
      if (row.cells[c].used >= 0.0) extra = kBarRoom;
    }
    if (!lines.empty()) set.firstSize = std::max(set.firstSize, lines.front().size);
    extras.push_back(extra);
    set.cells.push_back(std::move(lines));
  }
  for (std::size_t c = 0; c < set.cells.size(); ++c)
    set.height = std::max(set.height, heights.of(set.cells[c]) + set.drop(c) + extras[c] + 2 * heights.pad);
  return set;
}

/// Takes from `rest` what fits in `height`.
SetRow takePart(SetRow& rest, double height, const Heights& heights) {
  SetRow part;
  part.height = height;
  for (std::vector<CellLine>& lines : rest.cells) {
    double used = 2 * heights.pad;
    std::size_t n = 0;
    while (n < lines.size() && used + heights.of(lines[n]) <= height) used += heights.of(lines[n++]);
    part.cells.emplace_back(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(n));
    lines.erase(lines.begin(), lines.begin() + static_cast<std::ptrdiff_t>(n));
  }
  rest.height = 0.0;
  for (const std::vector<CellLine>& lines : rest.cells)
    rest.height = std::max(rest.height, heights.of(lines) + 2 * heights.pad);
  return part;
}

class TablePainter {
 public:
  TablePainter(SheetPages& sheet, const PaperTable& table)
      : sheet_(sheet),
        table_(table),
        widths_(columnWidths(table, sheet.width())),
        heights_(table, sheet.tight()) {}

  void paint() {
    double first = headHeight() + heights_.row;
    if (!table_.rows.empty() && table_.rows.front().band.empty())
      first = headHeight() + std::min(setRow(table_, table_.rows.front(), widths_, heights_).height, 60.0);
    sheet_.need(first);
    heads();
    for (std::size_t i = 0; i < table_.rows.size(); ++i) {
      const PaperRow& row = table_.rows[i];
      if (row.band.empty()) {
        body(row);
      } else {
        band(row, i + 1 < table_.rows.size());
      }
    }
    sheet_.space(2.0);
  }

 private:
  std::vector<std::string> headLines(std::size_t c) const {
    return brokenLines(table_.columns[c].head, widths_[c] - 2 * kPadX, kNoteSize, true);
  }
  double headHeight() const {
    std::size_t most = 1;
    for (std::size_t c = 0; c < widths_.size(); ++c) most = std::max(most, headLines(c).size());
    return static_cast<double>(most) * kNoteSize * kLineStep + 1.6;
  }

  double textX(std::size_t c, double x) const {
    const Align align = table_.columns[c].align;
    if (align == Align::Right) return x + widths_[c] - kPadX;
    return align == Align::Center ? x + widths_[c] / 2 : x + kPadX;
  }

  void heads() {
    Sketch sketch = sheet_.sketch();
    const double height = headHeight();
    double x = sheet_.left();
    for (std::size_t c = 0; c < widths_.size(); ++c) {
      const std::vector<std::string> lines = headLines(c);
      double y = sheet_.y + height - 1.4 - static_cast<double>(lines.size() - 1) * kNoteSize * kLineStep;
      for (const std::string& line : lines) {
        Type type = kHeadType;
        type.align = table_.columns[c].align;
        if (!line.empty()) sketch.text({textX(c, x), y}, line, type);
        y += kNoteSize * kLineStep;
      }
      x += widths_[c];
    }
    sheet_.space(height);
    sketch.line({{sheet_.left(), sheet_.y}, {x, sheet_.y}}, {Role::Ink, 0.5});
  }

  void turnPage() {
    sheet_.newPage();
    heads();
  }

  void band(const PaperRow& row, bool more) {
    const double height = kTextSize * kLineStep + 2.6;
    if (sheet_.room() < height + (more ? heights_.row + 4.0 : 0.0)) turnPage();
    const Type type{kTextSize, true};
    sheet_.sketch(row.record)
        .text({sheet_.left() + kPadX, sheet_.y + 1.6 + kTextSize * 0.9},
              shortened(row.band, sheet_.width() - 2 * kPadX, type), type);
    sheet_.space(height);
    rule(row);
  }

  void rule(const PaperRow& row) {
    const double right = sheet_.left() + std::accumulate(widths_.begin(), widths_.end(), 0.0);
    sheet_.sketch(row.record).line({{sheet_.left(), sheet_.y}, {right, sheet_.y}}, {Role::SecondInk, 0.13});
  }

  void body(const PaperRow& row) {
    SetRow set = setRow(table_, row, widths_, heights_);
    const double page = sheet_.content().h - headHeight();
    if (set.height <= page && sheet_.room() < set.height) turnPage();
    bool first = true;
    while (set.height > sheet_.room() + 1e-6) {
      if (sheet_.room() >= heights_.row + 4.0) {
        part(row, takePart(set, sheet_.room(), heights_), first);
        first = false;
      }
      turnPage();
    }
    set.height = std::max(set.height, heights_.row);
    part(row, set, first);
  }

  void part(const PaperRow& row, const SetRow& set, bool first) {
    Sketch sketch = sheet_.sketch(row.record);
    double x = sheet_.left();
    for (std::size_t c = 0; c < widths_.size(); ++c) {
      if (c < row.cells.size()) cell(sketch, row.cells[c], set, c, x, first);
      x += widths_[c];
    }
    sheet_.space(set.height);
    rule(row);
  }

  void cell(Sketch& sketch, const Cell& cell, const SetRow& set, std::size_t c, double x, bool first) {
    const double top = sheet_.y;
    if (cell.kind == Cell::Kind::Tick && first)
      sketch.tickBox({x + (widths_[c] - kTickSide) / 2, top + (std::min(set.height, 12.0) - kTickSide) / 2},
                     kTickSide);
    if (cell.kind == Cell::Kind::Blank && first)
      sketch.rect({x + kPadX, top + 1.0, widths_[c] - 2 * kPadX, std::min(set.height, 12.0) - 2.0},
                  {Role::Blank, 0.25});
    double y = top + heights_.pad + set.drop(c);
    for (const CellLine& line : set.cells[c]) {
      sketch.text({textX(c, x), y + line.size * 0.92}, line.text,
                  {line.size, line.bold, line.mono, table_.columns[c].align});
      y += heights_.of(line);
    }
    if (cell.used >= 0.0 && first) {
      const double w = std::min(kBarWidth, widths_[c] - 2 * kPadX);
      const double from = table_.columns[c].align == Align::Right ? x + widths_[c] - kPadX - w : x + kPadX;
      sketch.bar({from, y + 0.9, w, kBarHeight}, cell.used);
    }
  }

  SheetPages& sheet_;
  const PaperTable& table_;
  std::vector<double> widths_;
  Heights heights_;
};

}  // namespace

std::vector<double> columnWidths(const PaperTable& table, double width) {
  std::vector<Need> needs;
  std::vector<double> widths;
  double rest = width;
  for (std::size_t c = 0; c < table.columns.size(); ++c) {
    needs.push_back(needOf(table, c));
    widths.push_back(needs.back().least);
    rest -= needs.back().least;
  }
  if (rest < 0.0) {
    for (double& w : widths) w *= width / (width - rest);
    return widths;
  }
  // What is left goes to those that want more, to each the same, none more than it wants.
  for (std::size_t round = 0; round < widths.size(); ++round) {
    std::size_t wanting = 0;
    for (std::size_t c = 0; c < widths.size(); ++c) wanting += needs[c].natural > widths[c] + 1e-6 ? 1 : 0;
    if (wanting == 0) break;
    const double share = rest / static_cast<double>(wanting);
    for (std::size_t c = 0; c < widths.size(); ++c) {
      const double more = std::min(share, std::max(0.0, needs[c].natural - widths[c]));
      widths[c] += more;
      rest -= more;
    }
  }
  for (double& w : widths) w += std::max(0.0, rest) / static_cast<double>(widths.size());
  return widths;
}

Cell idCell(const std::string& id) { return {Cell::Kind::Text, {{id, kIdSize, true}}}; }
Cell textCell(const std::string& text) { return {Cell::Kind::Text, {{text, kTextSize}}}; }
Cell noteCell(const std::string& text) { return {Cell::Kind::Text, {{text, kNoteSize}}}; }
Cell twoLines(const std::string& text, const std::string& note) {
  Cell cell{Cell::Kind::Text, {{text, kTextSize}}};
  if (!note.empty()) cell.lines.push_back({note, kNoteSize});
  return cell;
}
Cell tickCell() { return {Cell::Kind::Tick, {}}; }
Cell blankCell() { return {Cell::Kind::Blank, {}}; }

void draw(SheetPages& sheet, const PaperTable& table) {
  if (table.columns.empty()) return;
  TablePainter(sheet, table).paint();
}

}  // namespace yw::papers
