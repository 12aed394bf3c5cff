#include <gtest/gtest.h>

#include "core/edit/change.h"
#include "tests/core/edit/random_edits.h"

namespace yw::edit {
namespace {

using namespace yard;

/// A small yard with one of everything that can name something.
struct Bench {
  Editor edit{emptyYard()};
  Id circuit = edit.add(HouseCircuit{.name = "7"});
  Id outlet = edit.add(Outlet{.name = "Porch", .circuit = circuit});
  Id load = edit.add(OtherLoad{.name = "Freezer", .circuit = circuit});
  Id house = edit.add(GroundFeature{.kind = FeatureKind::House});
  Id wall = edit.add(yard::Wall{.feature = house, .from = {{0}, {0}}, .to = {{0}, base::feet(30)}});
  Id box = edit.add(Box{.name = "K1"});
  Id supply = edit.add(Supply{.box = box, .outlet = outlet});
  Id otherSupply = edit.add(Supply{.name = "elsewhere"});
  Id fuse = edit.add(FusePosition{.supply = supply});
  Id controller = edit.add(Controller{.box = box, .sections = {{supply}, {otherSupply}}});
  Id receiver = edit.add(Receiver{.name = "far", .controller = controller});
  Id port = edit.add(Port{.owner = controller});
  Id farPort = edit.add(Port{.owner = receiver});
  Id wire = edit.add(Wire{.name = "mine"});
  Id product = edit.add(Product{.name = "my pixel", .stringWire = wire});
  Id arch = edit.add(Prop{.name = "Arch", .product = product});
  Id ring = edit.add(Prop{.name = "Ring"});
  Id array = edit.add(PropArray{.members = {{arch}, {ring}}});
  Id lead = edit.add(Cable{.wire = wire});
  Id run = edit.add(yard::Run{
      .port = port, .items = {{.prop = arch}, {.kind = RunItemKind::Booster}, {.prop = ring, .lead = lead}}});
  Id feed =
      edit.add(Cable{.from = {TerminalKind::FusePosition, fuse}, .to = {TerminalKind::PropPixel, arch, 9}});
  Id owned = edit.add(OwnedItem{.product = product});
  Id measured = edit.add(Measurement{.at = {TerminalKind::PropPixel, arch, 3}});
  Id left = edit.add(LeftAsIs{.rule = "low_volts", .subjects = {ring, arch}});
  Id keep = edit.add(KeepAsIs{.subject = feed});
  Id sheet = edit.add(IssuedSheet{.subject = box});

  template <class R>
  const R* get(Id id) const {
    return find<R>(edit.yard(), id);
  }
  bool has(Id id) const { return edit.yard().records.contains(id); }
};

void expectNothingDangles(const Yard& yard) {
  for (const auto& [id, record] : yard.records)
    for (const Reference& reference : referencesWithFields(*record))
      EXPECT_TRUE(yard.records.contains(reference.id)) << label(kindOf(*record)) << ' ' << id.value << ' '
                                                       << reference.field << " names " << reference.id.value;
}

TEST(Editor, RemovingAPropLeavesItsRunAndTakesWhatSpeaksOfIt) {
  Bench b;
  b.edit.remove(b.arch);
  ASSERT_TRUE(b.get<yard::Run>(b.run));
  ASSERT_EQ(b.get<yard::Run>(b.run)->items.size(), 2u);
  EXPECT_EQ(b.get<yard::Run>(b.run)->items[1].prop, b.ring);
  EXPECT_EQ(b.get<yard::Run>(b.run)->port, b.port);
  EXPECT_EQ(b.get<PropArray>(b.array)->members, (std::vector<ArrayMember>{{b.ring}}));
  for (const Id gone : {b.feed, b.measured, b.left, b.keep}) EXPECT_FALSE(b.has(gone)) << gone.value;
  expectNothingDangles(b.edit.yard());
}

TEST(Editor, TheLastPropTakesRunAndArrayAlong) {
  Editor edit(emptyYard());
  const Id prop = edit.add(Prop{}), run = edit.add(yard::Run{.items = {{.prop = prop}}});
  const Id empty = edit.add(yard::Run{.name = "planned"}), array = edit.add(PropArray{.members = {{prop}}});
  edit.remove(prop);
  EXPECT_FALSE(edit.yard().records.contains(run));
  EXPECT_FALSE(edit.yard().records.contains(array));
  EXPECT_TRUE(edit.yard().records.contains(empty));
}

TEST(Editor, ARunOfBoostersAloneGoesWithItsLastProp) {
  Editor edit(emptyYard());
  const Id near = edit.add(Prop{}), far = edit.add(Prop{});
  const Id run =
      edit.add(yard::Run{.items = {{.prop = near}, {.kind = yard::RunItemKind::Booster}, {.prop = far}}});
  edit.remove(near);
  EXPECT_TRUE(edit.yard().records.contains(run));
  edit.remove(far);
  EXPECT_FALSE(edit.yard().records.contains(run));
}

TEST(Editor, RemovingABoxTakesWhatIsInItAndItsFeeds) {
  Bench b;
  b.edit.remove(b.box);
  for (const Id gone : {b.supply, b.fuse, b.controller, b.port, b.feed, b.keep, b.sheet})
    EXPECT_FALSE(b.has(gone)) << gone.value;
  EXPECT_FALSE(b.get<yard::Run>(b.run)->port);
  EXPECT_EQ(b.get<yard::Run>(b.run)->items.size(), 3u);
  ASSERT_TRUE(b.get<Receiver>(b.receiver));
  EXPECT_FALSE(b.get<Receiver>(b.receiver)->controller);
  EXPECT_TRUE(b.has(b.farPort));
  EXPECT_TRUE(b.has(b.otherSupply));
  expectNothingDangles(b.edit.yard());
}

TEST(Editor, RemovingASupplyKeepsTheSectionsInTheirPlaces) {
  Bench b;
  b.edit.remove(b.supply);
  const auto& sections = b.get<Controller>(b.controller)->sections;
  ASSERT_EQ(sections.size(), 2u);  // ports name sections by number
  EXPECT_FALSE(sections[0].supply);
  EXPECT_EQ(sections[1].supply, b.otherSupply);
  EXPECT_FALSE(b.has(b.feed));
}

TEST(Editor, RemovingProductAndWireClearsWhoUsedThem) {
  Bench b;
  const Id usual = settings(b.edit.yard()).usualProduct, usualFeed = settings(b.edit.yard()).usualFeed;
  b.edit.remove({b.product, b.wire, usual, usualFeed});
  EXPECT_FALSE(b.get<Prop>(b.arch)->product);
  EXPECT_FALSE(b.get<Cable>(b.lead)->wire);
  EXPECT_FALSE(settings(b.edit.yard()).usualProduct);
  EXPECT_FALSE(settings(b.edit.yard()).usualFeed);
  EXPECT_EQ(*b.get<OwnedItem>(b.owned), (OwnedItem{.what = "my pixel"}));
  expectNothingDangles(b.edit.yard());
}

TEST(Editor, RemovingAWallLeavesItsPropsWhereTheyHung) {
  Bench b;
  const Id star = b.edit.add(Prop{.name = "Star", .at = {base::feet(10), base::feet(8)}, .wall = b.wall});
  const Id hung = b.edit.add(Box{.at = {base::feet(3), base::feet(1)}, .wall = b.wall});
  b.edit.remove(b.wall);
  const auto* prop = b.get<Prop>(star);
  EXPECT_FALSE(prop->wall);
  EXPECT_EQ(prop->at, (Point{Length{0}, base::feet(10)}));  // the wall runs north
  EXPECT_EQ(prop->base, base::feet(8));
  EXPECT_EQ(prop->heading, Angle{90'000'000});  // its outside looks east
  EXPECT_EQ(b.get<Box>(hung)->at, (Point{Length{0}, base::feet(3)}));
}

TEST(Editor, RemovingACircuitLeadOrHouseOnlyForgetsIt) {
  Bench b;
  b.edit.remove({b.circuit, b.lead, b.house});
  EXPECT_FALSE(b.get<Outlet>(b.outlet)->circuit);
  EXPECT_FALSE(b.get<OtherLoad>(b.load)->circuit);
  EXPECT_FALSE(b.get<yard::Wall>(b.wall)->feature);
  EXPECT_FALSE(b.get<yard::Run>(b.run)->items[2].lead);
  expectNothingDangles(b.edit.yard());
}

TEST(Editor, SettingsAndSiteStay) {
  Editor edit(emptyYard());
  edit.remove({settingsId(edit.yard()), siteId(edit.yard())});
  EXPECT_TRUE(edit.finish("Nothing").empty());
}

TEST(Editor, LeavesOutWhatEndsAsItBegan) {
  const Yard yard = emptyYard();
  Editor edit(yard);
  const Id settingsPlace = settingsId(yard);
  edit.update<Settings>(settingsPlace, [](Settings& s) { s.currency = "€"; });
  edit.update<Settings>(settingsPlace, [](Settings& s) { s.currency = "$"; });
  edit.remove(edit.add(Prop{}));
  edit.update<Prop>(settingsPlace, [](Prop& p) { p.name = "not a prop"; });
  EXPECT_TRUE(edit.finish("Nothing").empty());
}

TEST(Editor, NeverGivesAnIdTwice) {
  Editor edit(emptyYard());
  const Id first = edit.add(Prop{});
  edit.remove(first);
  EXPECT_GT(edit.add(Prop{}), first);
}

TEST(Change, SortsItsReplacementsAndTurnsBack) {
  const Yard yard = emptyYard();
  Editor edit(yard);
  const Id prop = edit.add(Prop{.name = "x"});
  edit.update<Settings>(settingsId(yard), [](Settings& s) { s.currency = "€"; });
  edit.remove(settings(yard).usualProduct);
  const Change change = edit.finish("Three things");
  EXPECT_EQ(touched(change), (std::vector{settingsId(yard), settings(yard).usualProduct, prop}));
  EXPECT_EQ(change.nextIdAfter, change.nextIdBefore + 1);
  EXPECT_TRUE(apply(yard, change) == edit.yard());
  EXPECT_TRUE(apply(apply(yard, change), reversed(change)) == yard);
}

TEST(Change, CombinesWithTheNext) {
  const Yard yard = emptyYard();
  Editor first(yard);
  const Id kept = first.add(Prop{.name = "kept"}), gone = first.add(Prop{.name = "gone"});
  const Change a = first.finish("a");
  Editor second(apply(yard, a));
  second.update<Prop>(kept, [](Prop& p) { p.name = "renamed"; });
  second.remove(gone);
  const Change both = combined(a, second.finish("b"));
  EXPECT_EQ(both.name, "b");
  EXPECT_EQ(touched(both), std::vector{kept});
  EXPECT_TRUE(apply(yard, both) == second.yard());
  EXPECT_TRUE(apply(second.yard(), reversed(both)) == yard);
}

TEST(Editor, RandomRemovalsLeaveNothingDangling) {
  for (const std::uint64_t seed : {1, 2, 3}) {
    RandomEdits random(seed);
    Yard yard = emptyYard();
    for (int i = 0; i < 400; ++i) yard = apply(yard, random.next(yard));
    expectNothingDangles(yard);
    Editor edit(yard);
    for (const auto& [id, record] : yard.records)
      if (random.below(3) == 0) edit.remove(id);
    expectNothingDangles(edit.yard());
    EXPECT_TRUE(apply(edit.yard(), reversed(edit.finish("Remove many"))) == yard);
  }
}

TEST(Apply, AnEmptyChangeLeavesTheNextIdAlone) {
  const Yard yard = yard::emptyYard();
  EXPECT_EQ(apply(yard, Change{}).nextId, yard.nextId);
}

}  // namespace
}  // namespace yw::edit
