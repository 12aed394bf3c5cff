#include "core/yard/labels.h"

#include <gtest/gtest.h>

#include <set>

namespace yw::yard {
namespace {

struct Labels : testing::Test {
  Yard yard = emptyYard();
  Id add(Record record) {
    const Id id{yard.nextId++};
    yard.records.emplace(id, std::make_shared<const Record>(std::move(record)));
    return id;
  }
  Id box = add(Box{.name = "K2"});
  Id supply = add(Supply{.box = box});
  Id controller = add(Controller{.name = "Main", .box = box});
  Id port = add(Port{.owner = controller, .number = 5});
  Id fuse = add(FusePosition{.supply = supply, .number = 3});
};

TEST_F(Labels, PortsAndFusesAreCountedInTheirBox) {
  EXPECT_EQ(labelOf(yard, port), "K2-P05");
  EXPECT_EQ(labelOf(yard, fuse), "K2-F03");
  EXPECT_EQ(labelOf(yard, supply), "K2-V1");
  EXPECT_EQ(labelOf(yard, box), "K2");
  EXPECT_EQ(labelOf(yard, controller), "Main");
  EXPECT_EQ(labelOf(yard, add(Port{.owner = controller, .number = 112})), "K2-P112");
}

TEST_F(Labels, ASecondSupplyInTheBoxIsTold) {
  const Id second = add(Supply{.box = box});
  const Id fuseOfSecond = add(FusePosition{.supply = second, .number = 3});
  EXPECT_EQ(labelOf(yard, fuse), "K2-V1-F03");
  EXPECT_EQ(labelOf(yard, fuseOfSecond), "K2-V2-F03");
}

TEST_F(Labels, PortNumbersThatClashInABoxAreToldApart) {
  const Id receiver = add(Receiver{.box = box});
  const Id next = add(Port{.owner = receiver, .number = 6});
  EXPECT_EQ(labelOf(yard, next), "K2-P06");
  const Id same = add(Port{.owner = receiver, .number = 5});
  EXPECT_EQ(labelOf(yard, port), "K2-C1-P05");
  EXPECT_EQ(labelOf(yard, same), "K2-C2-P05");
}

TEST_F(Labels, ThingsOutsideABoxGoByTheirName) {
  const Id alone = add(Controller{.name = "Roof"});
  EXPECT_EQ(labelOf(yard, add(Port{.owner = alone, .number = 1})), "Roof-P01");
  const Id unnamed = add(Supply{});
  EXPECT_EQ(labelOf(yard, unnamed), "Supply " + std::to_string(unnamed.value));
  EXPECT_EQ(labelOf(yard, add(FusePosition{.supply = unnamed, .number = 2})),
            labelOf(yard, unnamed) + "-F02");
}

TEST_F(Labels, RunsAndFeedsGoByWhereTheyBegin) {
  const Id prop = add(Prop{.name = "Arch 2"});
  const Id lead = add(Cable{});
  const Id run =
      add(yard::Run{.name = "Arches", .port = port, .items = {RunItem{.prop = prop, .lead = lead}}});
  EXPECT_EQ(labelOf(yard, run), "K2-P05");
  EXPECT_EQ(labelOf(yard, lead), "K2-P05-A");
  EXPECT_EQ(labelOf(yard, add(yard::Run{.name = "Spare"})), "Spare");
  const Id feed =
      add(Cable{.from = {TerminalKind::FusePosition, fuse}, .to = {TerminalKind::PropPixel, prop, 40}});
  EXPECT_EQ(labelOf(yard, feed), "K2-F03");
  EXPECT_EQ(labelOf(yard, add(Cable{.name = "Blue cord"})), "Blue cord");
  EXPECT_EQ(labelOf(yard, prop), "Arch 2");
}

TEST_F(Labels, UnnamedAndUnknownRecordsStillHaveOne) {
  const Id spot = add(SpotHeight{});
  EXPECT_EQ(labelOf(yard, spot), "Spot height " + std::to_string(spot.value));
  EXPECT_EQ(labelOf(yard, Id{9999}), "?");
  EXPECT_EQ(labelOf(yard, Id{}), "?");
  for (const auto& [id, record] : yard.records) EXPECT_FALSE(labelOf(yard, id).empty());
}

TEST_F(Labels, NamesThatAreFree) {
  add(Box{.name = "K1"});
  EXPECT_EQ(freeName(yard, RecordKind::Box, "K"), "K3");
  EXPECT_EQ(freeName(yard, RecordKind::Box, "K1"), "K3");
  EXPECT_EQ(freeName(yard, RecordKind::Prop, "Arch"), "Arch");
  add(Prop{.name = "Arch"});
  EXPECT_EQ(freeName(yard, RecordKind::Prop, "Arch"), "Arch 2");
  add(Prop{.name = "Arch 2"});
  EXPECT_EQ(freeName(yard, RecordKind::Prop, "Arch 2"), "Arch 3");
  EXPECT_EQ(freeName(yard, RecordKind::Wall, ""), "Wall");
  EXPECT_EQ(freeName(yard, RecordKind::Wall, "12"), "Wall");
}

TEST(PieceLetter, LeavesOutWhatIsMisread) {
  std::string all;
  for (int n = 0; n < 20; ++n) all += pieceLetter(n);
  EXPECT_EQ(all, "ACDEFGHJKLMNPRTUVWXY");
  EXPECT_EQ(pieceLetter(20), "AA");
  EXPECT_EQ(pieceLetter(21), "AC");
  EXPECT_EQ(pieceLetter(40), "CA");
  std::set<std::string> seen;
  for (int n = 0; n < 2000; ++n) {
    EXPECT_TRUE(seen.insert(pieceLetter(n)).second) << n;
    EXPECT_EQ(pieceLetter(n).find_first_of("IOQSZB8"), std::string::npos);
  }
}

}  // namespace
}  // namespace yw::yard
