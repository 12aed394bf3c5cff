#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>
#include <tuple>

#include "tests/core/papers/paper_yard.h"

namespace yw::papers {
namespace {

using paperyard::PaperYard;
using paperyard::Printed;
using Json = nlohmann::json;

const Table& named(const std::vector<Table>& tables, const std::string& name) {
  for (const Table& table : tables)
    if (table.name == name) return table;
  throw std::runtime_error("no table " + name);
}

std::string cell(const Table& table, std::size_t row, const std::string& key) {
  for (std::size_t i = 0; i < table.keys.size(); ++i)
    if (table.keys[i] == key) return table.rows.at(row).at(i);
  throw std::runtime_error("no column " + key);
}

/// A strict reader of RFC 4180 to read our own bytes back.
std::vector<std::vector<std::string>> readCsv(const std::string& bytes) {
  std::vector<std::vector<std::string>> rows(1, std::vector<std::string>(1));
  bool quoted = false;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    const char c = bytes[i];
    if (quoted) {
      if (c != '"') {
        rows.back().back() += c;
      } else if (i + 1 < bytes.size() && bytes[i + 1] == '"') {
        rows.back().back() += bytes[++i];
      } else {
        quoted = false;
      }
    } else if (c == '"') {
      quoted = true;
    } else if (c == ',') {
      rows.back().emplace_back();
    } else if (c == '\r' && i + 1 < bytes.size() && bytes[i + 1] == '\n') {
      ++i;
      rows.emplace_back(1);
    } else {
      rows.back().back() += c;
    }
  }
  rows.pop_back();  // after the last line end
  return rows;
}

TEST(Tables, AreThoseOfTheHeader) {
  const Printed p{PaperYard{}};
  std::vector<std::string> names;
  for (const Table& table : tables(*p.a, p.report)) {
    names.push_back(table.name);
    EXPECT_EQ(table.keys.size(), table.heads.size());
    EXPECT_EQ(table.keys.size(), table.numbers.size());
    EXPECT_EQ(table.rows.size(), table.rowRecord.size());
    EXPECT_EQ(table.rows.empty(), table.name == "levels") << table.name;  // its ground is level
    for (const auto& row : table.rows) EXPECT_EQ(row.size(), table.keys.size()) << table.name;
    for (const std::string& head : table.heads)
      EXPECT_EQ(head.find('['), std::string::npos) << table.name << ": " << head;
  }
  EXPECT_EQ(names, (std::vector<std::string>{"feeds", "supplies_fuses", "lead_cut_list", "addresses", "parts",
                                             "ports", "runs", "props", "house_circuits", "mains_cords",
                                             "box_heat", "fuse_choice", "levels", "boxes", "controllers"}));
  const auto said = tableNames();
  ASSERT_EQ(said.size(), names.size());
  for (std::size_t i = 0; i < names.size(); ++i) {
    EXPECT_EQ(said[i].first, names[i]);
    const Table one = table(*p.a, names[i]), same = tables(*p.a, p.report).at(i);
    EXPECT_EQ(one.title, said[i].second);
    EXPECT_EQ(one.rows, same.rows);
    EXPECT_EQ(one.columns.size(), one.keys.size());
    for (std::size_t c = 0; c < one.keys.size(); ++c) EXPECT_TRUE(one.keys[c].starts_with(one.columns[c]));
  }
  EXPECT_TRUE(table(*p.a, "none").keys.empty());
}

TEST(Tables, OfBoxesAndControllersCountWhatIsFree) {
  const Printed p{PaperYard{}};
  const Table boxes = table(*p.a, "boxes"), boards = table(*p.a, "controllers");
  ASSERT_FALSE(boxes.rows.empty());
  std::int64_t ports = 0, free = 0, boardPorts = 0, boardPixels = 0, pixels = 0;
  for (std::size_t i = 0; i < boxes.rows.size(); ++i) {
    ports += std::stoi(cell(boxes, i, "ports"));
    free += std::stoi(cell(boxes, i, "ports_free"));
    EXPECT_NEAR(std::stof(cell(boxes, i, "heat_W")), p.a->limit.mains.boxes.at(boxes.rowRecord[i]).heat,
                0.06);
  }
  for (std::size_t i = 0; i < boards.rows.size(); ++i) {
    boardPorts += std::stoi(cell(boards, i, "ports"));
    boardPixels += std::stoi(cell(boards, i, "pixels"));
  }
  for (const auto& [id, run] : p.a->data.runs) pixels += run.pixels;
  const auto all = yard::all<yard::Port>(p.a->yard);
  const auto used = std::count_if(all.begin(), all.end(), [&](const auto& port) {
    return static_cast<bool>(yard::runOnPort(p.a->yard, port.first));
  });
  EXPECT_EQ(ports, static_cast<std::int64_t>(all.size()));
  EXPECT_EQ(boardPorts, ports);
  EXPECT_EQ(ports - free, used);
  EXPECT_EQ(boardPixels, pixels);
}

TEST(Tables, SayWhatTheEngineSays) {
  const PaperYard y;
  const Printed p{y};
  const auto all = tables(*p.a, p.report);
  const Table& feeds = named(all, "feeds");
  ASSERT_EQ(feeds.rows.size(), 2U);
  EXPECT_EQ(cell(feeds, 0, "feed"), "K1-F01");
  EXPECT_EQ(feeds.rowRecord[0], y.feed1);
  EXPECT_NEAR(std::stof(cell(feeds, 0, "amps_limit_A")), p.a->limit.feeds.at(y.feed1).amps, 0.006);
  EXPECT_EQ(cell(feeds, 1, "v_plus"), "cut");
  EXPECT_EQ(cell(feeds, 1, "without_it"), "dark");
  const Table& runs = named(all, "runs");
  EXPECT_NEAR(std::stof(cell(runs, 0, "lowest_volts_limit_V")), p.a->limit.runs.at(y.run1).lowestVolts,
              0.006);
  const Table& cut = named(all, "lead_cut_list");
  EXPECT_EQ(cut.rows.size(), p.a->routes.cables.size());
}

TEST(Tables, OfTheHouseSayWhatTheEngineSays) {
  PaperYard y;
  y.e.update<yard::Site>(yard::siteId(y.e.yard()), [](yard::Site& s) {
    s.showFrom = "2026-12-01";
    s.showTo = "2026-12-10";
    s.hoursANight = {static_cast<std::int64_t>(4 * 3600) * 1'000'000'000};
  });
  const Printed p{y};
  const auto all = tables(*p.a, p.report);
  const Table& circuits = named(all, "house_circuits");
  const auto& circuit = p.a->limit.circuits.at(circuits.rowRecord[0]);
  EXPECT_NEAR(std::stof(cell(circuits, 0, "amps_limit_A")), circuit.amps, 0.006);
  EXPECT_NEAR(std::stof(cell(circuits, 0, "leakage_mA")), circuit.leakage * 1e3, 0.006);
  EXPECT_NEAR(std::stof(cell(circuits, 0, "season_kWh")), 10 * circuit.watts * 0.5 * 4.0 / 1000.0, 0.06);
  const Table& cords = named(all, "mains_cords");
  EXPECT_EQ(cords.rows.size(), p.a->limit.mains.cords.size());
  EXPECT_NEAR(std::stof(cell(cords, 0, "amps_limit_A")), p.a->limit.mains.cords.begin()->second.amps, 0.006);
  const Table& heat = named(all, "box_heat");
  EXPECT_NEAR(std::stof(cell(heat, 0, "air_celsius")), p.a->limit.mains.boxes.at(heat.rowRecord[0]).inside,
              0.06);
  EXPECT_EQ(cell(heat, 0, "size_assumed"), "yes");
  const Table& choice = named(all, "fuse_choice");
  for (std::size_t i = 0; i < choice.rows.size(); ++i)
    EXPECT_GE(std::stof(cell(choice, i, "usual_fuse_A")) * 0.75F + 1e-3F,
              std::stof(cell(choice, i, "amps_limit_A")));
}

TEST(Tables, CutListIsByWireThenLongestFirst) {
  const Printed p{PaperYard{}};
  const auto all = tables(*p.a, p.report);
  const Table& cut = named(all, "lead_cut_list");
  for (std::size_t i = 1; i < cut.rows.size(); ++i) {
    if (cell(cut, i, "wire") == cell(cut, i - 1, "wire")) {
      EXPECT_LE(std::stof(cell(cut, i, "cut_ft")), std::stof(cell(cut, i - 1, "cut_ft")));
    }
  }
}

TEST(Tables, UnitsFollowTheYard) {
  PaperYard y;
  y.e.update<yard::Settings>(yard::settingsId(y.e.yard()),
                             [](yard::Settings& s) { s.units = base::UnitSystem::Metric; });
  const Printed p{y};
  const auto all = tables(*p.a, p.report);
  const Table& cut = named(all, "lead_cut_list");
  EXPECT_EQ(cut.keys[3], "cut_m");
  EXPECT_EQ(cut.heads[3], "Cut, m");
}

// RFC 4180: CRLF, quotes doubled, fields with comma, quote or line break quoted.
TEST(Csv, ReadsBackAsItWas) {
  Table table;
  table.heads = {"A", "B, ft"};
  table.keys = {"a", "b"};
  table.numbers = {false, true};
  table.rows = {{"plain", "12.5"}, {"with, comma", ""}, {"a \"quoted\" word", "line\nbreak"}, {"", "K2 → Ω"}};
  table.rowRecord.resize(4);
  const std::string bytes = csv(table);
  EXPECT_EQ(bytes.substr(0, bytes.find('\n') + 1), "A,\"B, ft\"\r\n");
  std::vector<std::vector<std::string>> expected{table.heads};
  expected.insert(expected.end(), table.rows.begin(), table.rows.end());
  EXPECT_EQ(readCsv(bytes), expected);
}

TEST(Tsv, KeepsOneLineARow) {
  Table table;
  table.heads = {"A", "B"};
  table.keys = {"a", "b"};
  table.numbers = {false, false};
  table.rows = {{"tab\there", "line\nbreak"}};
  table.rowRecord.resize(1);
  EXPECT_EQ(tsv(table), "A\tB\ntab here\tline break\n");
}

TEST(TablesJson, HasFormatVersionAndPlainNumbers) {
  const Printed p{PaperYard{}};
  const std::string bytes = json(tables(*p.a, p.report));
  const Json read = Json::parse(bytes);
  EXPECT_EQ(read["format"], "yardwright-tables");
  EXPECT_EQ(read["version"], 1);
  EXPECT_EQ(read["tables"].size(), 15U);
  EXPECT_EQ(read["tables"][0]["name"], "feeds");
  EXPECT_TRUE(read["tables"][0]["rows"][0]["amps_limit_A"].is_number());
  EXPECT_EQ(bytes.find("\"format\""), 3U) << "the format stands first";
}

TEST(TablesHtml, NamesWhatMarkupWouldEat) {
  PaperYard y;
  y.e.update<yard::Prop>(y.arch, [](yard::Prop& prop) { prop.name = "<b>Arch & \"co\"</b>"; });
  const Printed p{y};
  const std::string page = html(tables(*p.a, p.report), "A & B");
  EXPECT_EQ(page.find("<b>"), std::string::npos);
  EXPECT_NE(page.find("&lt;b&gt;Arch &amp; &quot;co&quot;&lt;/b&gt;"), std::string::npos);
  EXPECT_NE(page.find("<title>A &amp; B</title>"), std::string::npos);
}

TEST(Tables, AnEmptyYardHasThemToo) {
  const Printed p{yard::emptyYard()};
  const auto all = tables(*p.a, p.report);
  EXPECT_EQ(all.size(), 15U);
  EXPECT_NE(html(all, "x").find("Nothing in this list."), std::string::npos);
}

double number(const std::string& text) {
  double value = 0;
  std::istringstream(text) >> value;
  return value;
}

Table tableOf(const yard::Yard& yard, const std::string& name) { return table(*assess::assess(yard), name); }

// A prop on a wall is told along it and up it, one on the ground right and up the plan; never one for the
// other.
TEST(Tables, TellWhereAPropOnAWallIsByTheWall) {
  edit::Editor editor(yard::emptyYard());
  yard::Wall wall;
  wall.name = "Front";
  wall.to = {base::feet(40), {0}};
  yard::Prop arch = shapes::usualProp("arch"), eave = shapes::usualProp("eave_line");
  arch.name = "Arch";
  arch.at = {base::feet(3), base::feet(4)};
  eave.name = "Eave";
  eave.wall = editor.add(wall);
  eave.at = {base::feet(10), base::feet(9)};
  editor.add(arch);
  editor.add(eave);
  const Table props = tableOf(editor.yard(), "props");
  EXPECT_EQ(cell(props, 0, "x_ft"), "3.00");
  EXPECT_EQ(cell(props, 0, "y_ft"), "4.00");
  EXPECT_EQ(cell(props, 0, "wall"), "");
  EXPECT_EQ(cell(props, 0, "along_wall_ft"), "");
  EXPECT_EQ(cell(props, 1, "x_ft"), "");
  EXPECT_EQ(cell(props, 1, "y_ft"), "");
  EXPECT_EQ(cell(props, 1, "wall"), "Front");
  EXPECT_EQ(cell(props, 1, "along_wall_ft"), "10.00");
  EXPECT_EQ(cell(props, 1, "up_wall_ft"), "9.00");
}

// Ground that falls 1 ft in 10: a row of two alike props 10 ft apart differs by that foot; the legs of a ring
// 6 ft across by 6/10 of it, the strips with its ring along the ground likewise up and down the slope.
TEST(Tables, TellTheLegsAndStripsThatBringLevel) {
  edit::Editor editor(yard::emptyYard());
  for (const auto& [x, y, up] : {std::tuple{0, 0, 0}, {100, 0, 120}, {0, 100, 0}, {100, 100, 120}})
    editor.add(yard::SpotHeight{{base::feet(x), base::feet(y)}, base::inches(up)});
  yard::PropArray row;
  row.name = "Arches";
  for (const int x : {10, 20}) {
    yard::Prop arch = shapes::usualProp("arch");
    arch.name = "Arch " + std::to_string(x);
    arch.at = {base::feet(x), base::feet(20)};
    row.members.push_back({editor.add(arch), false});
  }
  editor.add(row);
  yard::Prop tree = shapes::usualProp("cone_tree");
  tree.name = "Tree";
  tree.at = {base::feet(50), base::feet(50)};
  editor.add(tree);
  const Table levels = tableOf(editor.yard(), "levels");
  ASSERT_EQ(levels.rows.size(), 2U + 8U + 16U);
  EXPECT_EQ(cell(levels, 0, "length_ft"), "1.000");
  EXPECT_EQ(cell(levels, 1, "length_ft"), "0.000");
  double shortest = 1e9, longest = 0, shortStrip = 1e9, longStrip = 0;
  for (std::size_t r = 2; r < levels.rows.size(); ++r) {
    const double length = number(cell(levels, r, "length_ft"));
    (r < 10 ? shortest : shortStrip) = std::min(r < 10 ? shortest : shortStrip, length);
    (r < 10 ? longest : longStrip) = std::max(r < 10 ? longest : longStrip, length);
  }
  EXPECT_NEAR(longest - shortest, 0.6, 0.002);
  // sqrt((12 +- 0.3 cos)^2 + (32/12)^2): strip 1 of 16 stands 11.25 degrees off the slope's line at most.
  EXPECT_NEAR(longStrip, std::hypot(12.3, 32.0 / 12), 0.01);
  EXPECT_NEAR(shortStrip, std::hypot(11.7, 32.0 / 12), 0.01);
}

}  // namespace
}  // namespace yw::papers
