#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>

#include "core/edit/ideas.h"
#include "core/file/yard_file.h"
#include "core/papers/characters.h"
#include "core/papers/plan_drawing.h"
#include "core/papers/sheets/prop_drawing.h"
#include "core/papers/sheets/sheets.h"
#include "tests/core/papers/paper_yard.h"

namespace yw::papers {
namespace {

using paperyard::PaperYard;
using paperyard::Printed;
using paperyard::textsOf;
using yard::SheetKind;

struct Box {
  double x0, y0, x1, y1;
  std::string text;
};

/// What an upright text covers: from its capitals' top to its base line.
Box boxOf(const Item& item) {
  const double w = textWidth(item.text, item.size, item.bold, item.mono);
  const double x = item.points[0].x - (item.align == Align::Left     ? 0
                                       : item.align == Align::Center ? w / 2
                                                                     : w);
  return {x, item.points[0].y - item.size * kCapHeight, x + w, item.points[0].y, item.text};
}

bool overlap(const Box& a, const Box& b) {
  constexpr double kTouch = 0.05;
  return a.x0 < b.x1 - kTouch && b.x0 < a.x1 - kTouch && a.y0 < b.y1 - kTouch && b.y0 < a.y1 - kTouch;
}

/// Upright texts outside of drawings (which are clipped).
std::vector<Box> textBoxes(const Page& page) {
  std::vector<Box> boxes;
  int clips = 0;
  for (const Item& item : page.items) {
    clips += item.type == Item::Type::ClipBegin ? 1 : item.type == Item::Type::ClipEnd ? -1 : 0;
    if (item.type == Item::Type::Text && clips == 0 && item.turn == 0.0) boxes.push_back(boxOf(item));
  }
  return boxes;
}

void expectInside(const Document& document, const std::string& name) {
  constexpr double kMargin = 9.9;
  for (std::size_t n = 0; n < document.pages.size(); ++n) {
    const Page& page = document.pages[n];
    int clips = 0;
    for (const Item& item : page.items) {
      clips += item.type == Item::Type::ClipBegin ? 1 : item.type == Item::Type::ClipEnd ? -1 : 0;
      if (clips > 0 && item.type != Item::Type::Text) continue;  // cut off at the frame
      if (item.type == Item::Type::Text) {
        if (item.turn != 0.0) continue;
        const Box box = boxOf(item);
        EXPECT_GE(box.x0, kMargin) << name << " page " << n + 1 << ": " << item.text;
        EXPECT_LE(box.x1, page.width - kMargin) << name << " page " << n + 1 << ": " << item.text;
        EXPECT_GE(box.y0, kMargin) << name << " page " << n + 1 << ": " << item.text;
        EXPECT_LE(box.y1, page.height - kMargin) << name << " page " << n + 1 << ": " << item.text;
      }
      for (const Mm p : item.points) {
        EXPECT_TRUE(std::isfinite(p.x) && std::isfinite(p.y));
        EXPECT_GE(p.x, kMargin - 0.5);
        EXPECT_LE(p.x, page.width - kMargin + 0.5);
      }
    }
    EXPECT_EQ(clips, 0);
  }
}

void expectApart(const Document& document, const std::string& name) {
  for (std::size_t n = 0; n < document.pages.size(); ++n) {
    const std::vector<Box> boxes = textBoxes(document.pages[n]);
    for (std::size_t i = 0; i < boxes.size(); ++i)
      for (std::size_t k = i + 1; k < boxes.size(); ++k)
        EXPECT_FALSE(overlap(boxes[i], boxes[k]))
            << name << " page " << n + 1 << ": '" << boxes[i].text << "' and '" << boxes[k].text << "'";
  }
}

yard::Yard onPaper(const PaperYard& y, yard::PaperSize paper, base::UnitSystem units) {
  edit::Editor e(y.e.yard());
  e.update<yard::Settings>(yard::settingsId(y.e.yard()), [&](yard::Settings& s) {
    s.paper = paper;
    s.units = units;
  });
  return e.yard();
}

/// Names as long as people make them.
yard::Yard withLongNames(const PaperYard& y) {
  edit::Editor e(y.e.yard());
  const std::string tail = " beside the very old rhododendron by the neighbors' fence, second from the left";
  for (const auto& [id, prop] : yard::all<yard::Prop>(y.e.yard()))
    e.update<yard::Prop>(id, [&](yard::Prop& p) { p.name += tail; });
  e.update<yard::Box>(y.box1, [&](yard::Box& b) { b.notes = tail + tail + tail; });
  e.update<yard::Site>(yard::siteId(y.e.yard()), [&](yard::Site& s) { s.name += tail; });
  e.update<yard::Outlet>(y.outlet, [&](yard::Outlet& o) { o.name += tail; });
  e.update<yard::Run>(y.run1, [&](yard::Run& r) { r.name += tail; });
  return e.yard();
}

TEST(Sheets, ListEverySheetOfTheYardInPrintingOrder) {
  const PaperYard y;
  const Printed p{y};
  std::vector<std::string> titles;
  for (const SheetRequest& request : sheetsOf(*p.a)) titles.push_back(sheetTitle(*p.a, request));
  std::erase(titles, "Zones");
  EXPECT_EQ(titles, (std::vector<std::string>{"Map", "House front", "Box K1", "Box K2", "Run K1-P01 Arches",
                                              "Run K1-P02", "Run K2-P01 Panel", "Feeds", "Supplies and fuses",
                                              "Cut list", "Addresses", "Parts"}));
}

TEST(Sheets, KeepInsideThePaper) {
  const PaperYard y;
  for (const yard::PaperSize paper : {yard::PaperSize::Letter, yard::PaperSize::A4})
    for (const base::UnitSystem units : {base::UnitSystem::FeetInches, base::UnitSystem::Metric}) {
      const Document document = Printed(onPaper(y, paper, units)).all();
      EXPECT_EQ(document.pages[0].width, paper == yard::PaperSize::A4 ? 210.0 : 215.9);
      EXPECT_EQ(document.pages[0].height, paper == yard::PaperSize::A4 ? 297.0 : 279.4);
      expectInside(document, "paper yard");
      expectApart(document, "paper yard");
    }
}

TEST(Sheets, KeepInsideThePaperWithVeryLongNames) {
  const PaperYard y;
  const Printed p(withLongNames(y));
  for (const SheetRequest& request : sheetsOf(*p.a)) {
    const Document document = papers::document(*p.a, p.report, {request});
    expectInside(document, sheetTitle(*p.a, request));
    if (request.kind != SheetKind::Map && request.kind != SheetKind::HouseFront &&
        request.kind != SheetKind::Zone)
      expectApart(document, sheetTitle(*p.a, request));
  }
}

TEST(Sheets, SampleYardsKeepInsideThePaper) {
  for (const char* name : {"porch-and-lawn", "corner-lot"}) {
    const auto opened =
        file::open(std::filesystem::path(YARDWRIGHT_ROOT) / "sample-yards" / (std::string(name) + ".yard"));
    ASSERT_TRUE(opened) << base::text(opened.error());
    const Printed p(opened->yard);
    for (const SheetRequest& request : sheetsOf(*p.a)) {
      const Document document = papers::document(*p.a, p.report, {request});
      expectInside(document, sheetTitle(*p.a, request));
      if (request.kind >= SheetKind::Feeds || request.kind == SheetKind::BoxPage)
        expectApart(document, sheetTitle(*p.a, request));
    }
  }
}

TEST(Sheets, AreSetTighterRatherThanEndInAPageOfAFewLines) {
  const auto opened =
      file::open(std::filesystem::path(YARDWRIGHT_ROOT) / "sample-yards" / "porch-and-lawn.yard");
  ASSERT_TRUE(opened) << base::text(opened.error());
  const Printed p(opened->yard);
  const auto run = yard::all<yard::Run>(opened->yard).front().first;
  EXPECT_EQ(p.one(SheetKind::RunPage, run).pages.size(), 1U) << "one line of joints more than fits";
  EXPECT_EQ(p.one(SheetKind::Supplies, {}).pages.size(), 1U) << "two lines more";
  EXPECT_EQ(SheetPages(yard::PaperSize::Letter, {}, {}).tight(), 1.0);
}

TEST(Sheets, AnEmptyYardPrintsWithoutHarm) {
  const Printed p(yard::emptyYard());
  const Document document = p.all();
  EXPECT_GE(document.pages.size(), 2U);
  EXPECT_NE(textsOf(document).find("The yard is empty"), std::string::npos);
  expectInside(document, "empty");
}

TEST(Sheets, ARequestForWhatIsGoneGivesNoPage) {
  const Printed p{PaperYard{}};
  EXPECT_TRUE(p.one(SheetKind::BoxPage, Id{99999}).pages.empty());
  EXPECT_TRUE(p.one(SheetKind::RunPage, Id{}).pages.empty());
}

TEST(Sheets, EveryPageHasItsFrame) {
  const Document document = Printed{PaperYard{}}.all();
  const std::size_t pages = document.pages.size();
  for (std::size_t n = 0; n < pages; ++n) {
    std::string texts;
    for (const Item& item : document.pages[n].items)
      if (!item.record) texts += item.text + " ";
    EXPECT_NE(texts.find("Maple corner"), std::string::npos);
    EXPECT_NE(texts.find("Page " + std::to_string(n + 1) + " of " + std::to_string(pages)),
              std::string::npos);
    EXPECT_NE(texts.find("Revision 1"), std::string::npos);
    EXPECT_NE(texts.find("Not checked: wind"), std::string::npos);
    EXPECT_NE(texts.find("not an approval"), std::string::npos);
    EXPECT_NE(texts.find("cale"), std::string::npos);
  }
}

TEST(Sheets, EveryWordHasItsWordingAndIsInTheFont) {
  for (const PaperYard& y : {PaperYard{}, PaperYard{1}}) {
    const std::string texts = textsOf(Printed{y}.all());
    EXPECT_EQ(texts.find("[papers_"), std::string::npos) << texts.substr(texts.find("[papers_"), 60);
    EXPECT_EQ(texts.find("["), std::string::npos) << texts.substr(texts.find('['), 60);
    EXPECT_TRUE(inFont(printable([&] {
      std::string t = texts;
      std::replace(t.begin(), t.end(), '\n', ' ');
      return t;
    }())));
  }
}

TEST(Sheets, TypeIsOfThreeSizes) {
  // look: ids 16 pt, text 12 pt, notes 9 pt; the sign's ! alone is its own.
  for (const Page& page : Printed{PaperYard{}}.all().pages)
    for (const Item& item : page.items) {
      if (item.type != Item::Type::Text || item.text == "!") continue;
      const double points = item.size * 72 / 25.4;
      EXPECT_TRUE(std::abs(points - 16) < 1e-6 || std::abs(points - 12) < 1e-6 || std::abs(points - 9) < 1e-6)
          << item.text;
    }
}

TEST(Sheets, TheSameYardGivesTheSameDocument) {
  const PaperYard y;
  const Document one = Printed{y}.all(), two = Printed{y}.all();
  ASSERT_EQ(one.pages.size(), two.pages.size());
  for (std::size_t i = 0; i < one.pages.size(); ++i) EXPECT_EQ(svg(one.pages[i]), svg(two.pages[i]));
}

TEST(Sheets, FeedsSheetTellsTheEnginesVolts) {
  const PaperYard y;
  const Printed p{y};
  const std::string texts = textsOf(p.one(SheetKind::Feeds));
  const double volts = p.a->limit.feeds.at(y.feed1).voltsAtPixel;
  EXPECT_NE(texts.find(fixed(volts, 1) + " V"), std::string::npos) << texts;
  EXPECT_NE(texts.find("K1-F01"), std::string::npos);
}

TEST(Sheets, AssumedFiguresCarryAnAsteriskAndAFootLine) {
  PaperYard y;
  EXPECT_NE(textsOf(Printed{y}.one(SheetKind::RunPage, y.run1)).find("* Rests on assumed figures of"),
            std::string::npos);
  for (const auto& [id, product] : yard::all<yard::Product>(y.e.yard()))
    y.e.update<yard::Product>(id, [](yard::Product& r) { r.origin = yard::Origin::Measured; });
  const std::string texts = textsOf(Printed{y}.one(SheetKind::RunPage, y.run1));
  EXPECT_EQ(texts.find('*'), std::string::npos) << texts;
}

TEST(Sheets, SayThatThePlanIsDangerous) {
  PaperYard y;
  y.e.update<yard::FusePosition>(y.fuses1[0], [](yard::FusePosition& f) { f.fuse = {40'000'000}; });
  const Printed p{y};
  ASSERT_TRUE(p.report.failing);
  const std::string texts = textsOf(p.one(SheetKind::Parts));
  EXPECT_NE(texts.find("The plan this was printed from has findings: Danger"), std::string::npos);
  EXPECT_NE(textsOf(p.one(SheetKind::BoxPage, y.box1)).find("Danger: The 40.00 A fuse of K1-F01"),
            std::string::npos);
}

TEST(Sheets, ARunPageHasBothViewsAndEveryJoint) {
  const PaperYard y;
  const Printed p{y};
  const std::string texts = textsOf(p.one(SheetKind::RunPage, y.run3));
  EXPECT_NE(texts.find("FRONT VIEW"), std::string::npos);
  EXPECT_NE(texts.find("BACK VIEW"), std::string::npos);
  for (const shapes::Joint& joint : p.a->shapes.at(y.panel)->joints)
    EXPECT_NE(texts.find(joint.landmark), std::string::npos) << joint.landmark;
}

TEST(Sheets, ATurnedRoundPropIsDrawnTheWayTheDataGoes) {
  const PaperYard y;
  const Printed p{y};
  // Data enters the tree at its last pixel: IN stands by that one.
  const auto& pixels = p.a->shapes.at(y.tree)->pixels;
  std::vector<Item> items;
  const Digest d(*p.a);
  const auto count = static_cast<std::int64_t>(pixels.size());
  drawPropView({items, y.tree}, d, y.tree, PropView::Front, {0, 0, 150, 150}, {count, 1, {}});
  Mm in{}, out{};
  for (const Item& item : items) {
    if (item.text == "IN") in = item.points[0];
    if (item.text == "OUT") out = item.points[0];
  }
  std::vector<Item> straight;
  drawPropView({straight, y.tree}, d, y.tree, PropView::Front, {0, 0, 150, 150}, {1, count, {}});
  for (const Item& item : straight) {
    if (item.text == "OUT") {
      EXPECT_NEAR(std::hypot(item.points[0].x - in.x, item.points[0].y - in.y), 0.0, 12.0);
    }
    if (item.text == "IN") {
      EXPECT_NEAR(std::hypot(item.points[0].x - out.x, item.points[0].y - out.y), 0.0, 12.0);
    }
  }
  const std::string texts = textsOf(p.one(SheetKind::RunPage, y.run2));
  EXPECT_NE(texts.find(p.a->shapes.at(y.tree)->out.landmark + ", pixel " + std::to_string(count)),
            std::string::npos);
}

TEST(Sheets, TheBackViewIsTheMirroredFrontView) {
  const PaperYard y;
  const Printed p{y};
  // The lit pixels of both views are one cloud each, on the same page, in string order.
  std::vector<std::vector<Mm>> views;
  for (const Page& page : p.one(SheetKind::RunPage, y.run3).pages)
    for (const Item& item : page.items)
      if (item.type == Item::Type::Cloud && item.record == y.panel && item.role == Role::Ink)
        views.push_back(item.points);
  ASSERT_EQ(views.size(), 2U);
  ASSERT_EQ(views[0].size(), views[1].size());
  for (std::size_t i = 1; i < views[0].size(); ++i) {
    EXPECT_NEAR(views[0][i].x - views[0][0].x, -(views[1][i].x - views[1][0].x), 0.005);
    EXPECT_NEAR(views[0][i].y - views[0][0].y, views[1][i].y - views[1][0].y, 0.005);
  }
}

TEST(BoxPage, TellsWhatGoesDarkWithoutEachFuse) {
  const PaperYard y;
  const Printed p{y};
  const auto count = static_cast<std::int64_t>(p.a->layouts.at(y.run3)->pixels.size());
  std::string texts = textsOf(p.one(SheetKind::BoxPage, y.box2));
  std::replace(texts.begin(), texts.end(), '\n', ' ');
  const std::int64_t from = p.a->limit.feeds.at(y.feed2).runPixel;
  EXPECT_NE(texts.find("K2-P01 pixels " + std::to_string(from) + "–" + std::to_string(count) + " go dark"),
            std::string::npos)
      << texts;
  EXPECT_NE(texts.find("spare"), std::string::npos);
}

TEST(Sheets, OfAnIdeaSaySo) {
  PaperYard y;
  const auto made = edit::makeIdea(y.e.yard(), "One box less");
  ASSERT_TRUE(made);
  const yard::Yard idea = edit::apply(y.e.yard(), *made);
  const Printed yards{y}, ideas{idea};
  const auto text = [](const Printed& p) { return textsOf(p.one(SheetKind::Map)); };
  EXPECT_NE(text(ideas).find("Maple corner, idea: One box less"), std::string::npos) << text(ideas);
  EXPECT_EQ(text(yards).find("idea:"), std::string::npos);
  EXPECT_NE(checkText(*ideas.a, ideas.report).find("Maple corner, idea: One box less"), std::string::npos);
  EXPECT_NE(checkJson(*ideas.a, ideas.report).find("\"idea\": \"One box less\""), std::string::npos);
  EXPECT_EQ(checkJson(*yards.a, yards.report).find("\"idea\""), std::string::npos);
}

// --- revisions ---

yard::Yard issued(const yard::Yard& yard, const SheetRequest& request, std::int64_t revision,
                  const std::string& hash) {
  edit::Editor e(yard);
  yard::IssuedSheet sheet;
  sheet.sheet = request.kind;
  sheet.subject = request.subject;
  sheet.revision = revision;
  sheet.date = "2025-11-0" + std::to_string(revision);
  sheet.hash = hash;
  e.add(sheet);
  return e.yard();
}

TEST(Revisions, GoUpOnlyWhenTheContentChanges) {
  PaperYard y;
  const SheetRequest request{SheetKind::RunPage, y.run1};
  const auto revision = [&](const yard::Yard& yard) {
    const Printed p(yard);
    return revisionOf(*p.a, p.report, request);
  };
  const Revision first = revision(y.e.yard());
  EXPECT_EQ(first.number, 1);
  EXPECT_EQ(first.replaces, 0);
  EXPECT_EQ(first.date, "");
  EXPECT_FALSE(first.issued);

  const yard::Yard once = issued(y.e.yard(), request, 1, first.hash);
  EXPECT_TRUE(revision(once).issued);
  EXPECT_EQ(revision(once).number, 1);
  EXPECT_EQ(revision(once).date, "2025-11-01");

  edit::Editor e(once);
  e.update<yard::Prop>(y.arch, [](yard::Prop& p) { p.name = "First arch"; });
  const Revision changed = revision(e.yard());
  EXPECT_EQ(changed.number, 2);
  EXPECT_EQ(changed.replaces, 1);
  EXPECT_FALSE(changed.issued);
  const Printed p(e.yard());
  EXPECT_NE(textsOf(p.one(SheetKind::RunPage, y.run1)).find("replaces rev 1"), std::string::npos);
}

TEST(Revisions, AnotherSheetsChangeLeavesThisOneAlone) {
  PaperYard y;
  const Printed before{y};
  y.e.update<yard::Prop>(y.panel, [](yard::Prop& prop) { prop.notes = "shed"; });
  y.e.update<yard::Controller>(y.controller, [](yard::Controller& c) { c.address = "10.0.0.9"; });
  const Printed after{y};
  const auto hash = [](const Printed& p, SheetKind kind, Id id) { return contentHash(p.one(kind, id)); };
  EXPECT_EQ(hash(before, SheetKind::RunPage, y.run1), hash(after, SheetKind::RunPage, y.run1));
  EXPECT_NE(hash(before, SheetKind::BoxPage, y.box1), hash(after, SheetKind::BoxPage, y.box1));
}

TEST(Revisions, TheHashLeavesTheFrameOut) {
  const PaperYard y;
  const Printed p{y};
  const Document alone = p.one(SheetKind::BoxPage, y.box1);
  Document among;
  for (const Page& page : p.all().pages)
    if (page.title.starts_with("Box K1")) among.pages.push_back(page);
  EXPECT_EQ(contentHash(alone), contentHash(among));
}

TEST(Revisions, TheDateIsOfThePlan) {
  PaperYard y;
  EXPECT_EQ(Printed{y}.one(SheetKind::Map).date, "");
  y.e.update<yard::Site>(yard::siteId(y.e.yard()), [](yard::Site& s) { s.setUpDate = "2025-11-21"; });
  EXPECT_EQ(Printed{y}.one(SheetKind::Map).date, "2025-11-21");
  EXPECT_EQ(Printed(issued(y.e.yard(), {SheetKind::Parts, {}}, 3, "x")).one(SheetKind::Map).date,
            "2025-11-03");
}

// --- the plan ---

TEST(Plan, PutsThingsAtTheirTruePlaces) {
  const PaperYard y;
  const auto a = y.assessed();
  PlanView view;
  view.scale = 10.0;
  view.lowerLeft = {-6, -10};
  view.frameX = 20;
  view.frameY = 30;
  view.frameWidth = 200;
  view.frameHeight = 200;
  for (const Item& item : plan(*a, view)) {
    if (item.role == Role::House && item.type == Item::Type::Area) {
      // The house's corner at (0, 0): 60 mm right of the frame's left, 100 mm above its lower edge.
      EXPECT_EQ(item.points[0], (Mm{80, 130}));
      EXPECT_EQ(item.points[2], (Mm{180, 50}));
    }
  }
}

TEST(Plan, ThePixelsAreThoseOfTheProp) {
  const PaperYard y;
  const auto a = y.assessed();
  PlanView view;
  view.scale = 5.0;
  view.lowerLeft = {-6, -10};
  view.frameWidth = view.frameHeight = 100;
  std::size_t pixels = 0;
  for (const Item& item : plan(*a, view))
    if (item.type == Item::Type::Cloud && item.record == y.arch) pixels += item.points.size();
  EXPECT_EQ(pixels, a->shapes.at(y.arch)->pixels.size());
  view.pixels = false;
  for (const Item& item : plan(*a, view)) EXPECT_NE(item.type, Item::Type::Cloud);
}

TEST(Plan, AFeedsArrowIsAtItsFuse) {
  const PaperYard y;
  const auto a = y.assessed();
  PlanView view;
  view.scale = 5.0;
  view.lowerLeft = {-6, -10};
  view.frameWidth = view.frameHeight = 100;
  const base::Vec3 box = routes::placeOf(a->yard, a->shapes, {yard::TerminalKind::Box, y.box1, 0});
  const PlanScale scale(view);
  bool seen = false;
  for (const Item& item : plan(*a, view)) {
    if (item.record != y.feed1 || item.type != Item::Type::Line || !item.arrow) continue;
    seen = true;
    EXPECT_NEAR(item.points.back().x, scale.at(base::plan(box)).x, 0.01);
    EXPECT_NEAR(item.points.back().y, scale.at(base::plan(box)).y, 0.01);
  }
  EXPECT_TRUE(seen);
}

TEST(Plan, TellsWhyAKeepOutIsOne) {
  const PaperYard y;
  EXPECT_NE(textsOf(Printed{y}.one(SheetKind::Map)).find("buried gas line, 1′ 7 11/16″ either side"),
            std::string::npos);
}

TEST(Map, AnInchOfItsBarIsAnInch) {
  const PaperYard y;
  const Document map = Printed{y}.one(SheetKind::Map);
  std::map<double, int> blocks;
  for (const Item& item : map.pages[0].items)
    if (item.type == Item::Type::Area && item.filled && item.role == Role::Ink && item.points.size() == 4)
      ++blocks[std::round((item.points[1].x - item.points[0].x) * 1000) / 1000];
  EXPECT_GE(blocks[25.4], 2) << "blocks of one inch in the bar of feet";
}

TEST(Map, IsDrawnAtTheScaleItNames) {
  const PaperYard y;
  const Document map = Printed{y}.one(SheetKind::Map);
  const std::string texts = textsOf(map);
  const std::size_t at = texts.find("Scale 1 in = ");
  ASSERT_NE(at, std::string::npos);
  const double feet = std::stof(texts.substr(at + 13));
  bool seen = false;
  for (const Item& item : map.pages[0].items) {
    if (item.role != Role::House || item.type != Item::Type::Area || item.width != 0.5 || !item.record)
      continue;
    if (item.points.size() != 4 || yard::find<yard::GroundFeature>(y.e.yard(), item.record) == nullptr)
      continue;
    seen = true;
    EXPECT_NEAR(std::abs(item.points[1].x - item.points[0].x), 10.0 / 0.3048 / feet * 25.4, 0.005);
  }
  EXPECT_TRUE(seen);
}

TEST(Scales, TheLargestUsualOneThatFitsIsTaken) {
  EXPECT_EQ(fittingScale(base::UnitSystem::FeetInches, 30.0, 10.0, 254.0, 200.0).name, "1 in = 10 ft");
  EXPECT_EQ(fittingScale(base::UnitSystem::Metric, 20.0, 10.0, 200.0, 200.0).name, "1:100");
  EXPECT_EQ(fittingScale(base::UnitSystem::Metric, 20.1, 10.0, 200.0, 200.0).name, "1:200");
}

TEST(Zones, ComeWithACrowdedMapAndNameWhatItLeftOff) {
  PaperYard y(3);
  for (int i = 0; i < 60; ++i)
    y.addProp("arch", "Hoop number " + std::to_string(i),
              paperyard::at(-4 + (i % 12) * 0.7, -3.2 - (i / 12) * 0.5));
  const Printed p{y};
  const auto sheets = sheetsOf(*p.a);
  ASSERT_TRUE(std::any_of(sheets.begin(), sheets.end(),
                          [](const SheetRequest& r) { return r.kind == SheetKind::Zone; }));
  const Document zones = p.one(SheetKind::Zone);
  ASSERT_GE(zones.pages.size(), 1U);
  EXPECT_TRUE(zones.pages[0].title.starts_with("Zone 1 of "));
  EXPECT_NE(textsOf(p.one(SheetKind::Map)).find("are on the zones"), std::string::npos);
  expectInside(zones, "zones");
}

TEST(HouseFront, DrawsTheGableByItsPitch) {
  const PaperYard y;
  const Document front = Printed{y}.one(SheetKind::HouseFront);
  const std::string texts = textsOf(front);
  const double feet = std::stof(texts.substr(texts.find("Scale 1 in = ") + 13));
  const double mmPerMetre = 25.4 / (feet * 0.3048);
  bool seen = false;
  for (const Item& item : front.pages[0].items) {
    if (item.role != Role::House || item.type != Item::Type::Line || item.points.size() != 3) continue;
    seen = true;  // base 6 m, pitch 6 in 12: the ridge is 1.5 m above the foot
    EXPECT_NEAR(item.points[0].y - item.points[1].y, 1.5 * mmPerMetre, 0.01);
    EXPECT_NEAR(item.points[2].x - item.points[0].x, 6.0 * mmPerMetre, 0.01);
  }
  EXPECT_TRUE(seen);
}

TEST(Svg, HoldsEveryTextAndClosesWhatItOpens) {
  PaperYard y;
  y.e.update<yard::Prop>(y.arch, [](yard::Prop& p) { p.name = "Arch <1> & co"; });
  const Document map = Printed{y}.one(SheetKind::Map);
  const std::string drawn = svg(map.pages[0]);
  EXPECT_NE(drawn.find("width=\"215.9mm\" height=\"279.4mm\" viewBox=\"0 0 215.9 279.4\""),
            std::string::npos);
  EXPECT_NE(drawn.find("Arch &lt;1&gt; &amp; co"), std::string::npos);
  const auto count = [&](const std::string& what) {
    std::size_t n = 0;
    for (std::size_t i = 0; (i = drawn.find(what, i)) != std::string::npos; ++i) ++n;
    return n;
  };
  EXPECT_EQ(count("<g "), count("</g>"));
  EXPECT_EQ(count("<text "), count("</text>"));
  EXPECT_EQ(count("nan"), 0U);
}

}  // namespace
}  // namespace yw::papers
