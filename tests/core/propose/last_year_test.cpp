// Last year's list: cells as RFC 4180 has them, columns by their heading, rows taken whole or refused in
// words.
#include "core/propose/last_year.h"

#include <gtest/gtest.h>

#include "core/shapes/shape.h"

namespace yw::propose {
namespace {

using base::Id;

/// A yard with a box K1 and a controller of four ports in it.
yard::Yard withPorts() {
  edit::Editor editor(yard::emptyYard());
  yard::Box box;
  box.name = "K1";
  yard::Controller controller;
  controller.name = "C1";
  controller.box = editor.add(box);
  const Id owner = editor.add(controller);
  for (std::int64_t n = 1; n <= 4; ++n) {
    yard::Port port;
    port.owner = owner;
    port.number = n;
    editor.add(port);
  }
  return editor.yard();
}

ListTaken taken(const yard::Yard& yard, const std::string& text) {
  const auto list = readList(text);
  EXPECT_TRUE(list);
  auto made = takeList(yard, *list, proposedColumns(*list), base::LengthUnit::Feet);
  EXPECT_TRUE(made);
  return std::move(*made);
}

TEST(LastYear, ReadsQuotedCellsOverLinesAndAnyOfThreeMarks) {
  for (const char mark : {',', ';', '\t'}) {
    std::string text = "\xEF\xBB\xBFProp|Notes\r\n\"Big|\"\"old\"\" tree\"|\"two\nlines\"\r\n\r\nArch|\r\n";
    std::replace(text.begin(), text.end(), '|', mark);
    const auto list = readList(text);
    ASSERT_TRUE(list);
    ASSERT_EQ(list->rows.size(), 2u);
    EXPECT_EQ(list->rows[0].cells[0], std::string("Big") + mark + "\"old\" tree");
    EXPECT_EQ(list->rows[0].cells[1], "two\nlines");
    EXPECT_EQ(list->rows[1].line, 5);
  }
  EXPECT_FALSE(readList(""));
  EXPECT_FALSE(readList("Prop,Kind\n"));
  EXPECT_FALSE(readList("Prop\n\"Tree"));
}

// A comma too many spoils its own row only; a spreadsheet's empty cells at the end spoil none.
TEST(LastYear, RefusesTheRowThatHasMoreCellsThanHeadings) {
  const ListTaken list = taken(withPorts(), "Prop,Kind\nA,arch,7\nB,arch,,\nC,arch\n");
  ASSERT_EQ(list.refused.size(), 1u);
  EXPECT_EQ(list.refused[0].line, 2);
  EXPECT_EQ(list.refused[0].why.message.key, "list_too_many_cells");
  EXPECT_EQ(list.props, 2);
}

TEST(LastYear, ProposesColumnsByHeadingAndNoneTwice) {
  const auto list = readList("Output,Start Universe,NAME,Item,Type,# of,Pixels,Lead (ft)\nx,,,,,,,\n");
  ASSERT_TRUE(list);
  using enum ListColumn;
  EXPECT_EQ(proposedColumns(*list),
            (std::vector<ListColumn>{Port, Universe, Prop, Ignored, Kind, Ignored, Pixels, Lead}));
}

TEST(LastYear, TakesPropsRunsLeadsAndAddressesInOneChange) {
  const yard::Yard before = withPorts();
  const ListTaken list = taken(before,
                               "Prop,Kind,Pixels,Port,Universe,Slot,Lead\n"
                               "Arch A,Arch,50,K1-P01,3,1,12\n"
                               "Arch B,arch,50,K1-P01,,,4' 6\"\n"
                               "Tree,Cone tree,300,K1-P02,5,,\n");
  EXPECT_TRUE(list.refused.empty());
  EXPECT_EQ(list.props, 3);
  EXPECT_EQ(list.runs, 2);
  EXPECT_EQ(list.leads, 2);
  const yard::Yard after = edit::apply(before, list.change);
  const auto runs = yard::all<yard::Run>(after);
  ASSERT_EQ(runs.size(), 2u);
  EXPECT_EQ(runs[0].second->items.size(), 2u);
  EXPECT_EQ(runs[0].second->startUniverse, 3);
  EXPECT_EQ(yard::find<yard::Cable>(after, runs[0].second->items[1].lead)->ownLength, base::inches(54));
  for (const auto& [id, prop] : yard::all<yard::Prop>(after)) {
    const auto shape = shapes::make(*prop);
    ASSERT_TRUE(shape) << prop->name;
    EXPECT_LE(shape->pixels.size(), prop->kind == "arch" ? 50u : 300u);
  }
  EXPECT_TRUE(edit::apply(after, edit::reversed(list.change)) == before);
}

TEST(LastYear, RefusesRowByRowAndSaysWhy) {
  const yard::Yard before = withPorts();
  const ListTaken list = taken(before,
                               "Prop,Kind,Pixels,Port,Lead\n"
                               ",arch,50,,\n"
                               "A,blimp,50,,\n"
                               "B,arch,many,,\n"
                               "C,arch,0,,\n"
                               "D,arch,1000000000,,\n"
                               "E,arch,50,K9-P01,\n"
                               "F,arch,50,K1-P01,far\n"
                               "G,arch,50,K1-P01,-3\n"
                               "H,,50,,\n"
                               "Good,arch,50,K1-P01,10\n"
                               "Good,arch,50,K1-P02,10\n"
                               "good,arch,50,,\n");
  ASSERT_EQ(list.refused.size(), 11u);
  for (const ListRefusal& row : list.refused) {
    EXPECT_TRUE(base::hasWording(row.why.message.key)) << row.why.message.key;
    EXPECT_EQ(base::text(row.why).find('['), std::string::npos) << base::text(row.why);
  }
  EXPECT_EQ(list.refused.front().line, 2);
  EXPECT_EQ(list.props, 1);
  const yard::Yard after = edit::apply(before, list.change);
  EXPECT_EQ(yard::all<yard::Prop>(after).size(), 1u) << "a refused row leaves nothing behind";
  EXPECT_EQ(yard::all<yard::Cable>(after).size(), 1u);
}

TEST(LastYear, KnowsKindsBySeveralOfThem) {
  const std::pair<const char*, const char*> words[] = {{"Arches", "arch"},
                                                       {"arch", "arch"},
                                                       {"Rings in rings", "concentric_rings"},
                                                       {"Mesh Panels", "mesh_panel"},
                                                       {"CONE-TREES", "cone_tree"},
                                                       {"Tunnels of hoops", "hoop_tunnel"},
                                                       {"Snowflakes", "snowflake"},
                                                       {"Path stake", "path_stakes"},
                                                       {"Spheres", "sphere"},
                                                       {"Hooked canes", "hooked_cane"}};
  for (const auto& [typed, kind] : words) {
    const ListTaken list = taken(withPorts(), std::string("Prop,Kind\nA,") + typed + "\n");
    ASSERT_TRUE(list.refused.empty()) << typed << ": " << base::text(list.refused.front().why);
    const yard::Yard after = edit::apply(withPorts(), list.change);
    EXPECT_EQ(yard::all<yard::Prop>(after)[0].second->kind, kind) << typed;
  }
  EXPECT_EQ(taken(withPorts(), "Prop,Kind\nA,Archers\n").refused.size(), 1u);
}

TEST(LastYear, APortThatIsTakenIsLeftAlone) {
  const yard::Yard first =
      edit::apply(withPorts(), taken(withPorts(), "Prop,Kind,Port\nA,arch,K1-P01\n").change);
  const ListTaken second = taken(first, "Prop,Kind,Port\nB,arch,K1-P01\n");
  ASSERT_EQ(second.refused.size(), 1u);
  EXPECT_EQ(second.refused.front().why.message.key, "list_port_taken");
  EXPECT_TRUE(second.change.empty());
}

}  // namespace
}  // namespace yw::propose
