#pragma once
#include <string>
#include <vector>

#include "core/papers/digest.h"
#include "core/papers/papers.h"
#include "core/papers/sketch.h"

namespace yw::papers {

/// What stands round the content of a sheet besides the page number.
struct SheetFrame {
  std::string title;
  std::string yardName;
  std::string cautions;
  std::string notChecked;
  std::string planState;  ///< `Plan: 1 Danger, 2 Won't work`, empty when it has neither
  std::string assumed;    ///< foot line of the asterisk, empty when nothing is assumed; content of the sheet
};

/// The pages of one sheet while they are filled from the top down. Content never reaches into the frame.
class SheetPages {
 public:
  /// `tight` below 1: rows and gaps are as much lower, so that a few lines need no page of their own.
  SheetPages(yard::PaperSize paper, Id record, SheetFrame frame, double tight = 1.0);

  Rect content() const { return content_; }
  double left() const { return content_.x; }
  double width() const { return content_.w; }
  double right() const { return content_.right(); }
  double bottom() const { return content_.bottom(); }
  double room() const { return bottom() - y; }
  double tight() const { return tight_; }
  Id record() const { return record_; }
  Sketch sketch() { return {pages_.back().items, record_}; }
  Sketch sketch(Id record) { return {pages_.back().items, record ? record : record_}; }

  /// Turns to a new page unless `height` mm are left on this one.
  void need(double height);
  void newPage();
  void setScale(const std::string& scale) { scales_.back() = scale; }
  void setPageTitle(const std::string& title) { titles_.back() = title; }

  /// A line over what follows; keeps `withNext` mm of it on the same page.
  void heading(const std::string& words, double withNext = 25.0);
  void paragraph(const std::string& words, Type type = {});
  void space(double height) { y += height; }

  double y = 0.0;  ///< where the next thing goes

  std::size_t count() const { return pages_.size(); }
  const SheetFrame& frame() const { return frame_; }
  std::vector<Page>& pages() { return pages_; }
  const std::string& scale(std::size_t page) const { return scales_[page]; }
  const std::string& pageTitle(std::size_t page) const {
    return titles_[page].empty() ? frame_.title : titles_[page];
  }

 private:
  double width_, height_;
  double tight_;
  Id record_;
  SheetFrame frame_;
  Rect content_;
  std::vector<Page> pages_;
  std::vector<std::string> scales_, titles_;
};

/// What the title block says of a sheet's age.
struct SheetAge {
  std::int64_t revision = 1;
  std::int64_t replaces = 0;  ///< 0: nothing
  std::string date;           ///< ISO 8601; empty: not known
};

/// Draws heading, title block, cautions and 'Not checked:' round each page; `first` is the number of the
/// sheet's first page among `total`.
void drawFrames(SheetPages& sheet, const SheetAge& age, std::size_t first, std::size_t total);

Mm paperSize(yard::PaperSize paper);

}  // namespace yw::papers
