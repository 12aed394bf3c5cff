#include "core/papers/sheet_pages.h"

#include <algorithm>

namespace yw::papers {
namespace {

constexpr double kMargin = 10.0;      // mm round everything; printers reach it
constexpr double kHeadHeight = 11.0;  // the sheet's name and the rule under it
constexpr double kBlockWidth = 92.0, kBlockHeight = 34.0, kBlockGap = 3.0;
constexpr double kNoteStep = kNoteSize * kLineStep;
constexpr Type kNote{kNoteSize};
constexpr Type kBoldNote{kNoteSize, true};

double linesHeight(const std::string& words, double width, bool bold) {
  if (words.empty()) return 0.0;
  return static_cast<double>(brokenLines(words, width, kNoteSize, bold).size()) * kNoteStep;
}

/// Height of the lines between content and title block. The plan's state has its line whether it is said or
/// not, so that a finding elsewhere does not move what stands on this sheet.
double bandHeight(const SheetFrame& frame, double width) {
  return kNoteStep + linesHeight(frame.assumed, width, false) + linesHeight(frame.notChecked, width, false) +
         2.0;
}

/// The warning triangle of ISO 3864, beside the cautions.
void warningSign(Sketch& sketch, Mm at, double side) {
  const double high = side * 0.866;
  sketch.area({{at.x, at.y + high}, {at.x + side / 2, at.y}, {at.x + side, at.y + high}}, {Role::Ink, 0.5});
  sketch.text({at.x + side / 2, at.y + high - 0.9}, "!", {kNoteSize * 1.1, true, false, Align::Center});
}

void drawCautions(Sketch& sketch, const Rect& box, const std::string& cautions) {
  sketch.rect(box, {Role::Ink, 0.35});
  warningSign(sketch, {box.x + 1.8, box.y + 2.0}, 7.0);
  const double width = box.w - 13.0;
  const auto count = static_cast<double>(brokenLines(cautions, width, kNoteSize).size());
  const double step = std::min(kNoteStep, (box.h - 2.4) / std::max(1.0, count));
  Mm at{box.x + 11.0, box.y + 1.2 + kNoteSize * 0.9};
  for (const std::string& line : brokenLines(cautions, width, kNoteSize)) {
    sketch.text(at, line, kNote);
    at.y += step;
  }
}

struct BlockTexts {
  std::string yard, title, page, revision, replaces, date, scale;
};

void drawBlock(Sketch& sketch, const Rect& box, const BlockTexts& texts) {
  sketch.rect(box, {Role::Ink, 0.5});
  const double row = box.h / 4;
  for (int i = 1; i < 4; ++i)
    sketch.line({{box.x, box.y + i * row}, {box.right(), box.y + i * row}}, {Role::Ink, 0.25});
  const double third = box.w / 3, half = box.w / 2, low = box.y + 2 * row;
  sketch.line({{box.x + third, low}, {box.x + third, low + row}});
  sketch.line({{box.x + 2 * third, low}, {box.x + 2 * third, low + row}});
  sketch.line({{box.x + half, low + row}, {box.x + half, low + 2 * row}});
  const auto put = [&](double x, int line, double width, const std::string& words, Type type) {
    const double base = box.y + line * row + row / 2 + type.size * kCapHeight / 2;
    sketch.text({x + 1.6, base}, shortened(words, width - 3.2, type), type);
  };
  put(box.x, 0, box.w, texts.yard, {kTextSize, true});
  put(box.x, 1, box.w, texts.title, {kTextSize});
  put(box.x, 2, third, texts.page, kNote);
  put(box.x + third, 2, third, texts.revision, kBoldNote);
  put(box.x + 2 * third, 2, third, texts.replaces, kNote);
  put(box.x, 3, half, texts.date, kNote);
  put(box.x + half, 3, half, texts.scale, kNote);
}

}  // namespace

Mm paperSize(yard::PaperSize paper) {
  return paper == yard::PaperSize::A4 ? Mm{210.0, 297.0} : Mm{215.9, 279.4};  // ISO 216; ANSI/ASME Y14.1
}

SheetPages::SheetPages(yard::PaperSize paper, Id record, SheetFrame frame, double tight)
    : width_(paperSize(paper).x),
      height_(paperSize(paper).y),
      tight_(tight),
      record_(record),
      frame_(std::move(frame)) {
  const double inner = width_ - 2 * kMargin;
  const double foot = kBlockHeight + bandHeight(frame_, inner) + 3.0;
  content_ = {kMargin, kMargin + kHeadHeight, inner, height_ - 2 * kMargin - kHeadHeight - foot};
  newPage();
}

void SheetPages::newPage() {
  Page page;
  page.width = width_;
  page.height = height_;
  page.title = frame_.title;
  pages_.push_back(std::move(page));
  scales_.emplace_back();
  titles_.push_back(titles_.empty() ? std::string() : titles_.back());
  y = content_.y;
}

void SheetPages::need(double height) {
  if (room() < height && y > content_.y) newPage();
}

void SheetPages::heading(const std::string& words, double withNext) {
  constexpr Type kType{kTextSize, true};
  if (y > content_.y) y += 3.0 * tight_;
  need(kTextSize * kLineStep + withNext);
  y = sketch().paragraph({left(), y + kTextSize}, width(), words, kType) - kTextSize * 0.75;
}

void SheetPages::paragraph(const std::string& words, Type type) {
  for (const std::string& line : brokenLines(words, width(), type.size, type.bold, type.mono)) {
    need(type.size * kLineStep);
    if (!line.empty()) sketch().text({left(), y + type.size * 0.9}, line, type);
    y += type.size * kLineStep;
  }
}

void drawFrames(SheetPages& sheet, const SheetAge& age, std::size_t first, std::size_t total) {
  const SheetFrame& frame = sheet.frame();
  for (std::size_t i = 0; i < sheet.count(); ++i) {
    Page& page = sheet.pages()[i];
    page.title = sheet.pageTitle(i);
    Sketch sketch(page.items, Id{});
    const double right = page.width - kMargin, inner = page.width - 2 * kMargin;
    constexpr Type kHead{kIdSize, true};
    const Type yardType{kTextSize, false, false, Align::Right, Role::SecondInk};
    const std::string title = shortened(page.title, inner, kHead);
    sketch.text({kMargin, kMargin + kIdSize * 0.95}, title, kHead);
    const double rest = inner - widthOf(title, kHead) - 6.0;
    if (rest > 20.0)
      sketch.text({right, kMargin + kIdSize * 0.95}, shortened(frame.yardName, rest, yardType), yardType);
    sketch.line({{kMargin, kMargin + 7.6}, {right, kMargin + 7.6}}, {Role::Ink, 0.5});

    double y = page.height - kMargin - kBlockHeight - bandHeight(frame, inner) + kNoteSize * 0.8;
    if (!frame.planState.empty())
      sketch.text({kMargin, y}, shortened(frame.planState, inner, kBoldNote), kBoldNote);
    y += kNoteStep;
    Sketch content = sketch.of(sheet.record());
    if (!frame.assumed.empty()) y = content.paragraph({kMargin, y}, inner, frame.assumed, kNote);
    sketch.paragraph({kMargin, y}, inner, frame.notChecked, kNote);

    const Rect block{right - kBlockWidth, page.height - kMargin - kBlockHeight, kBlockWidth, kBlockHeight};
    drawCautions(sketch, {kMargin, block.y, inner - kBlockWidth - kBlockGap, kBlockHeight}, frame.cautions);
    const auto number = [](std::size_t n) { return static_cast<std::int64_t>(n); };
    drawBlock(
        sketch, block,
        {frame.yardName, page.title,
         say("block_page", {{"page", number(first + i)}, {"pages", number(total)}}),
         say("block_revision", {{"revision", age.revision}}),
         age.replaces > 0 ? say("block_replaces", {{"revision", age.replaces}}) : say("block_replaces_none"),
         say("block_date", {{"date", age.date.empty() ? std::string("—") : age.date}}),
         sheet.scale(i).empty() ? say("block_no_scale") : say("block_scale", {{"scale", sheet.scale(i)}})});
  }
}

}  // namespace yw::papers
