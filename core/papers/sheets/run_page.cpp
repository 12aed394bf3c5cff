#include <algorithm>
#include <map>
#include <set>

#include "core/papers/sheets/prop_drawing.h"

namespace yw::papers {
namespace {

std::vector<std::pair<std::string, std::string>> runFacts(const Digest& d, Id id) {
  const auto* run = yard::find<yard::Run>(d.y, id);
  const data::RunData* counts = d.dataOf(id);
  const circuit::RunFigure *limit = d.figure(d.a.limit, id), *full = d.figure(d.a.fullWhite, id);
  std::vector<std::pair<std::string, std::string>> facts;
  if (!run->name.empty()) facts.emplace_back(say("head_name"), run->name);
  facts.emplace_back(say("head_port"), run->port ? d.label(run->port) : say("not_plugged_in"));
  if (counts != nullptr)
    facts.emplace_back(say("head_pixels"), say("pixels_line", {{"pixels", counts->pixels},
                                                               {"nulls", counts->nulls},
                                                               {"boosters", counts->boosters}}));
  if (counts != nullptr && counts->addressed)
    facts.emplace_back(say("fact_addresses"),
                       say("addresses_line", {{"u1", std::to_string(counts->start.universe)},
                                              {"s1", std::to_string(counts->start.slot)},
                                              {"u2", std::to_string(counts->end.universe)},
                                              {"s2", std::to_string(counts->end.slot)}}));
  std::string products;
  if (counts != nullptr)
    for (const Id product : counts->products) products += (products.empty() ? "" : ", ") + d.label(product);
  facts.emplace_back(say("head_product"), products + star(d.assumedRun(id)));
  if (limit != nullptr && full != nullptr)
    facts.emplace_back(say("fact_draws"),
                       say("draws_line", {{"limit", ampsText(limit->totalAmps) + star(d.assumedRun(id))},
                                          {"brightness", trimmed(d.brightnessLimit() * 100, 1)},
                                          {"full", ampsText(full->totalAmps)}}));
  if (const auto* worst = lookUp(d.a.faults().worst, id); worst != nullptr && worst->lost) {
    const auto lowest = std::min_element(worst->volts.begin(), worst->volts.end());
    facts.emplace_back(say("fact_if_lost"),
                       say("if_lost_line", {{"what", d.label(worst->lost)},
                                            {"volts", voltsText(*lowest)},
                                            {"pixel", std::int64_t{lowest - worst->volts.begin()} + 1}}));
  }
  return facts;
}

std::string leadText(const Digest& d, const routes::RoutedCable* lead) {
  if (lead == nullptr) return "";
  return d.cutText(lead->cutLength) + "  " + d.wireName(lead->wire);
}

void inOrder(SheetPages& sheet, const Digest& d, Id run) {
  PaperTable table;
  table.rowHeight = 8.0;
  table.column(say("head_lead_before"))
      .column(say("head_then"))
      .column(say("head_data_enters"))
      .column(say("head_data_leaves"));
  table.column(say("head_run_pixels"), Align::Right).column(say("head_done"), Align::Center);
  for (const Piece& piece : d.pieces(run)) {
    Cell lead;
    if (piece.lead != nullptr)
      lead.lines = {{piece.lead->label, kTextSize, true}, {leadText(d, piece.lead), kNoteSize}};
    std::string what, enters = piece.enters, leaves = piece.leaves;
    switch (piece.kind) {
      case yard::RunItemKind::Stretch:
        what = d.label(piece.prop);
        enters = say("landmark_pixel", {{"landmark", piece.enters}, {"pixel", piece.entered}});
        leaves = say("landmark_pixel", {{"landmark", piece.leaves}, {"pixel", piece.left}});
        break;
      case yard::RunItemKind::NullPixel:
        what = piece.count == 1 ? say("null_pixel_dark") : say("null_pixels", {{"count", piece.count}});
        break;
      case yard::RunItemKind::Booster:
        what = say("booster");
        break;
      case yard::RunItemKind::Unused:
        what = say("unused_pixels", {{"count", piece.count}});
        break;
    }
    Cell name{Cell::Kind::Text,
              {{what, piece.kind == yard::RunItemKind::Stretch ? kIdSize : kTextSize, true}}};
    table.row(piece.prop, {lead, name, noteCell(enters), noteCell(leaves),
                           textCell(piece.first > 0 ? rangeText(piece.first, piece.last) : "—"), tickCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("run_in_order"), 30.0);
  draw(sheet, table);
}

/// What stands at a place along the run, for the list of volts.
std::map<std::int64_t, std::string> voltPlaces(const Digest& d, Id run) {
  std::map<std::int64_t, std::string> places;
  const circuit::RunFigure* limit = d.figure(d.a.limit, run);
  if (limit == nullptr || limit->volts.empty()) return places;
  const auto add = [&](std::int64_t pixel, const std::string& what) {
    if (pixel < 1 || pixel > static_cast<std::int64_t>(limit->volts.size())) return;
    std::string& text = places[pixel];
    text += (text.empty() ? "" : ", ") + what;
  };
  add(1, say("volt_first"));
  for (const Id feed : d.feedsOf(run))
    add(d.powerPoint(feed).pixel, say("volt_feed", {{"feed", d.label(feed)}}));
  add(limit->lowestPixel, say("volt_lowest"));
  add(static_cast<std::int64_t>(limit->volts.size()), say("volt_last"));
  return places;
}

std::string voltsAt(const circuit::RunFigure& figure, std::int64_t pixel) {
  const auto i = static_cast<std::size_t>(pixel - 1);
  if (i >= figure.volts.size()) return "—";
  return i < figure.fed.size() && figure.fed[i] == 0 ? say("no_power") : voltsText(figure.volts[i]);
}

/// How sure the lowest volts are and what they rest on.
void marginLine(SheetPages& sheet, const Digest& d, Id run) {
  const circuit::Margins* margins = assess::marginsIfKnown(d.a);
  const circuit::RunMargin* m = margins != nullptr ? lookUp(margins->runs, run) : nullptr;
  if (m == nullptr || m->shares.empty()) return;
  std::set<Id> products;
  for (const Piece& piece : d.pieces(run))
    if (const auto* prop = yard::find<yard::Prop>(d.y, piece.prop))
      products.insert(yard::productIdOf(d.y, *prop));
  std::string marks;
  for (const Id id : products)
    marks +=
        (marks.empty() ? "" : ", ") +
        say("figure_mark",
            {{"what", d.label(id)},
             {"mark",
              std::string(
                  yard::words(yard::Origin{})[static_cast<std::size_t>(assess::originOf(d.a, id))].label)}});
  sheet.paragraph(say("margin_line", {{"volts", voltsText(m->volts)},
                                      {"likely", voltsText(m->likely)},
                                      {"limit", voltsText(m->limit)},
                                      {"marks", marks}}),
                  {kNoteSize});
}

void volts(SheetPages& sheet, const Digest& d, Id run) {
  const circuit::RunFigure *limit = d.figure(d.a.limit, run), *full = d.figure(d.a.fullWhite, run);
  if (limit == nullptr || full == nullptr) return;
  PaperTable table;
  table.column(say("head_at"))
      .column(say("head_pixel_of"))
      .column(say("head_run_pixel"), Align::Right)
      .column(say("head_expected_limit", {{"brightness", trimmed(d.brightnessLimit() * 100, 1)}}),
              Align::Right)
      .column(say("head_expected_full"), Align::Right)
      .column(say("head_measured"));
  const std::string mark = star(d.assumedRun(run));
  std::map<std::int64_t, double> measured;
  for (const circuit::Reading& r : d.a.fit.readings)
    if (r.run == run && r.volts && r.measured > 0.0) measured[r.place] = r.measured;
  for (const auto& [pixel, what] : voltPlaces(d, run))
    table.row(run, {textCell(what), textCell(d.pixelName(run, pixel)), textCell(std::to_string(pixel)),
                    textCell(voltsAt(*limit, pixel) + mark), textCell(voltsAt(*full, pixel) + mark),
                    measured.contains(pixel) ? textCell(voltsText(measured.at(pixel))) : blankCell()});
  if (table.rows.empty()) return;
  sheet.heading(say("volts_head"), 30.0);
  if (limit->noOperatingPoint || full->noOperatingPoint)
    sheet.paragraph(say("no_operating_point"), {kNoteSize, true});
  draw(sheet, table);
  marginLine(sheet, d, run);
}

void feeds(SheetPages& sheet, const Digest& d, Id run) {
  PaperTable table;
  table.column(say("head_feed"))
      .column(say("head_from"))
      .column(say("head_fuse"), Align::Right)
      .column(say("head_lead_cut"));
  table.column(say("head_lands_at")).column(say("head_v_plus")).column(say("head_done"), Align::Center);
  for (const Id id : d.feedsOf(run)) {
    const auto* cable = yard::find<yard::Cable>(d.y, id);
    const auto* position = yard::find<yard::FusePosition>(d.y, cable->from.record);
    const routes::RoutedCable* way = d.feedCable(id);
    const PowerPoint point = d.powerPoint(id);
    table.row(id, {idCell(d.label(id)),
                   textCell(say("box_fuse", {{"box", d.labelOrDash(yard::boxOf(d.y, cable->from.record))},
                                             {"number", position ? position->number : 0}})),
                   textCell(position ? trimmed(base::amps(position->fuse).si, 2) + " A" : "—"),
                   way ? twoLines(d.cutText(way->cutLength), d.wireName(way->wire)) : textCell(""),
                   twoLines(feedPlace(d, id), say("run_pixel_number", {{"pixel", point.pixel}})),
                   textCell(cable->cutPositive ? say("v_plus_cut") : say("v_plus_through")), tickCell()});
  }
  if (table.rows.empty()) return;
  sheet.heading(say("feeds_of_run"), 30.0);
  draw(sheet, table);
}

std::string viewTitle(PropView view) {
  return say(view == PropView::Front ? "front_view" : view == PropView::Back ? "back_view" : "from_above");
}

constexpr double kViewGap = 4.0, kViewTitle = 6.0;
constexpr std::size_t kManyRows = 8;  // more, and each view takes the whole width

/// How the views of a piece stand on the page: side by side, or one below the other where the numbers need
/// room.
struct ViewPlan {
  std::vector<PropView> views;
  bool stacked = false;
  double width = 0.0, height = 0.0;
};

ViewPlan planViews(const SheetPages& sheet, const shapes::Shape& shape, const Piece& piece) {
  ViewPlan plan;
  plan.views = viewsOf(shape);
  const std::int64_t first = std::min(piece.entered, piece.left), last = std::max(piece.entered, piece.left);
  const auto rows = static_cast<std::size_t>(
      std::count_if(shape.rows.begin(), shape.rows.end(),
                    [&](const shapes::Row& row) { return row.last >= first && row.first <= last; }));
  plan.stacked = rows > kManyRows;
  const auto across = plan.stacked ? 1.0 : static_cast<double>(plan.views.size());
  plan.width = (sheet.width() - kViewGap * (across - 1)) / across;
  // A low long prop needs no high frame.
  const double natural = plan.width * heightToWidth(shape, plan.views.front()) + 30.0;
  plan.height = plan.stacked ? std::clamp(natural, 84.0, 150.0) : std::clamp(natural, 38.0, 84.0);
  plan.height *= sheet.tight();
  return plan;
}

double drawingsHeight(const SheetPages& sheet, const Digest& d, const Piece& piece) {
  const auto* shape = lookUp(d.a.shapes, piece.prop);
  return shape == nullptr ? 10.0 : planViews(sheet, **shape, piece).height + kViewTitle + 6.0;
}

/// Feeds that land on this piece, by the prop's own pixel.
std::vector<std::pair<std::int64_t, std::string>> feedMarks(const Digest& d, Id run, const Piece& piece) {
  std::vector<std::pair<std::int64_t, std::string>> marks;
  for (const Id feed : d.feedsOf(run)) {
    const std::int64_t place = d.powerPoint(feed).pixel;
    const auto* cable = yard::find<yard::Cable>(d.y, feed);
    if (place >= piece.first && place <= piece.last && cable->to.record == piece.prop)
      marks.emplace_back(cable->to.pixel, say("volt_feed", {{"feed", d.label(feed)}}));
  }
  return marks;
}

void drawings(SheetPages& sheet, const Digest& d, Id run, const Piece& piece) {
  const auto* shape = lookUp(d.a.shapes, piece.prop);
  if (shape == nullptr) return;
  const ViewPlan plan = planViews(sheet, **shape, piece);
  const double block = plan.height + kViewTitle + 1.0;
  int missed = 0;
  sheet.need(block + kNoteSize * kLineStep);
  for (std::size_t i = 0; i < plan.views.size(); ++i) {
    if (plan.stacked && i > 0) {
      sheet.space(block + 2.0);
      sheet.need(block + kNoteSize * kLineStep);
    }
    const double x = plan.stacked ? 0.0 : static_cast<double>(i) * (plan.width + kViewGap);
    const Rect frame{sheet.left() + x, sheet.y + kViewTitle, plan.width, plan.height};
    Sketch s = sheet.sketch(piece.prop);
    const Type type{kTextSize, true};
    const std::string title =
        say("view_of", {{"view", viewTitle(plan.views[i])}, {"prop", d.label(piece.prop)}});
    s.text({frame.x, sheet.y + kTextSize}, shortened(title, plan.width, type), type);
    s.rect(frame, {Role::SecondInk, 0.25});
    missed += drawPropView(s, d, piece.prop, plan.views[i], frame,
                           {piece.entered, piece.left, feedMarks(d, run, piece)});
  }
  sheet.space(block);
  if (missed > 0) sheet.paragraph(say("numbers_in_table"), {kNoteSize});
  sheet.space(1.0);
}

/// Place along the run of a pixel of the prop that this piece strings.
std::int64_t runPixelOf(const Piece& piece, std::int64_t pixel) {
  return piece.entered <= piece.left ? piece.first + (pixel - piece.entered)
                                     : piece.first + (piece.entered - pixel);
}

/// Joints in the order the data meets them: the pixel before each, and the far end.
void joints(SheetPages& sheet, const Digest& d, const Piece& piece) {
  const auto* shape = lookUp(d.a.shapes, piece.prop);
  if (shape == nullptr) return;
  const bool turned = piece.entered > piece.left;
  const std::int64_t first = std::min(piece.entered, piece.left), last = std::max(piece.entered, piece.left);
  std::map<std::int64_t, std::pair<std::int64_t, std::string>> found;  // by place along the run
  for (const shapes::Joint& joint : (*shape)->joints) {
    const std::int64_t pixel = turned ? joint.afterPixel + 1 : joint.afterPixel;
    if (pixel >= first && pixel <= last) found[runPixelOf(piece, pixel)] = {pixel, joint.landmark};
  }
  if (!piece.leaves.empty()) found.try_emplace(piece.last, piece.left, piece.leaves);
  PaperTable table;
  table.rowHeight = 6.4;
  table.column(say("head_after_pixel"), Align::Right).column(say("head_run_pixel"), Align::Right);
  table.column(say("head_height_ground"), Align::Right).column(say("head_landmark"));
  for (const auto& [place, joint] : found)
    table.row(piece.prop,
              {textCell(std::to_string(joint.first)), textCell(std::to_string(place)),
               textCell(d.height(d.pixelHeight(piece.prop, joint.first))), textCell(joint.second)});
  if (table.rows.empty()) return;
  constexpr double kHead = 8.0, kTogether = 3.0;  // mm; rows
  sheet.need(kHead + table.rowHeight * std::min(kTogether, static_cast<double>(table.rows.size())));
  draw(sheet, table);
}

/// Strung in the same way on a prop built the same.
bool alike(const Digest& d, const Piece& a, const Piece& b) {
  const auto *propA = yard::find<yard::Prop>(d.y, a.prop), *propB = yard::find<yard::Prop>(d.y, b.prop);
  if (propA == nullptr || propB == nullptr || a.entered != b.entered || a.left != b.left) return false;
  return propA->kind == propB->kind && propA->sizes == propB->sizes && propA->choices == propB->choices &&
         propA->path == propB->path && propA->lines == propB->lines &&
         propA->stringOrder == propB->stringOrder && propA->base == propB->base && !propA->wall &&
         !propB->wall;
}

void props(SheetPages& sheet, const Digest& d, Id run) {
  std::vector<Piece> drawn;
  for (const Piece& piece : d.pieces(run)) {
    if (piece.kind != yard::RunItemKind::Stretch || piece.first == 0) continue;
    const auto* prop = yard::find<yard::Prop>(d.y, piece.prop);
    const shapes::Kind* kind = prop != nullptr ? shapes::findKind(prop->kind) : nullptr;
    const auto like = std::find_if(drawn.begin(), drawn.end(), [&](const Piece& p) {
      return alike(d, p, piece) && feedMarks(d, run, piece).empty();
    });
    sheet.heading(
        say("prop_heading",
            {{"prop", d.label(piece.prop)},
             {"kind", std::string(kind != nullptr ? kind->label : "")},
             {"pixels", rangeText(std::min(piece.entered, piece.left), std::max(piece.entered, piece.left))},
             {"run_pixels", rangeText(piece.first, piece.last)}}),
        like == drawn.end() ? drawingsHeight(sheet, d, piece) : 10.0);
    sheet.space(1.5);
    if (like != drawn.end()) {
      sheet.paragraph(
          say("built_alike",
              {{"prop", d.label(like->prop)}, {"pixel", piece.entered}, {"run_pixel", piece.first}}));
      continue;
    }
    drawn.push_back(piece);
    drawings(sheet, d, run, piece);
    joints(sheet, d, piece);
  }
}

}  // namespace

void fillRunPage(SheetPages& sheet, const Digest& d, const findings::Report& report, Id run) {
  PlanStyle style;
  style.cablesOf = {run};
  std::set<Id> about{run};
  const auto* record = yard::find<yard::Run>(d.y, run);
  if (record->port) about.insert(record->port);
  if (const Id box = record->port ? yard::boxOf(d.y, record->port) : Id{}) style.shown.insert(box);
  for (const Piece& piece : d.pieces(run))
    if (piece.prop) {
      style.shown.insert(piece.prop);
      about.insert(piece.prop);
    }
  for (const Id feed : d.feedsOf(run)) {
    style.cablesOf.insert(feed);
    about.insert(feed);
  }
  const double mapWidth = 78.0, mapHeight = 58.0 * sheet.tight();
  drawLocator(sheet, d, {sheet.right() - mapWidth, sheet.y, mapWidth, mapHeight}, style);
  const double below =
      drawFacts(sheet, sheet.left(), sheet.y, sheet.width() - mapWidth - 5.0, runFacts(d, run));
  sheet.y = std::max(below, sheet.y + mapHeight) + 1.0;
  drawFindings(sheet, d, report, about);
  inOrder(sheet, d, run);
  feeds(sheet, d, run);
  volts(sheet, d, run);
  props(sheet, d, run);
}

}  // namespace yw::papers
