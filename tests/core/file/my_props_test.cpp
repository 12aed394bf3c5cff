// A person's own props go from one yard to the next with their pixel, parts and measured values.
#include "core/file/my_props.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>

#include "core/file/yard_file.h"

namespace yw::file {
namespace {

namespace fs = std::filesystem;
using yard::Id;

struct MyProps : testing::Test {
  MyProps() {
    char name[] = "/tmp/yardwright my props XXXXXX";
    folder = mkdtemp(name);
  }
  ~MyProps() override { fs::remove_all(folder); }

  /// A ring of measured pixels, strung and placed.
  yard::Yard withRing() {
    edit::Editor editor(yard::emptyYard());
    yard::Product pixel = *yard::all<yard::Product>(editor.yard()).front().second;
    pixel.name = "My pixel";
    pixel.fullWhite = {37'000};
    pixel.origin = yard::Origin::Measured;
    const Id product = editor.add(pixel);
    yard::Prop prop;
    prop.name = "Ring";
    prop.kind = "ring";
    prop.product = product;
    prop.at = {base::feet(3), base::feet(4)};
    prop.parts = {{"Upper half", {{1, 25}}}};
    prop.status = yard::PropStatus::Ready;
    ring = editor.add(prop);
    yard::Measurement measured;
    measured.at = {yard::TerminalKind::PropPixel, ring, 1};
    measured.amps = {1'900'000};
    editor.add(measured);
    return editor.yard();
  }
  fs::path folder;
  Id ring;
};

TEST_F(MyProps, GoFromOneYardToTheNextWithPixelPartsAndMeasuredAmps) {
  const fs::path path = folder / "deep" / "my-props.yard";
  const yard::Yard first = withRing();
  const auto library = withMyProp(*readMyProps(path), first, ring);
  ASSERT_TRUE(library);
  ASSERT_TRUE(saveMyProps(*library, path));
  const auto read = readMyProps(path);
  ASSERT_TRUE(read);
  EXPECT_EQ(bytesOf(*read), bytesOf(*library));
  ASSERT_EQ(myPropNames(*read).size(), 1u);
  edit::Editor editor(yard::emptyYard());
  const Id put = putMyProp(editor, *read, myPropNames(*read).front().first, {base::feet(7), {0}});
  const auto* prop = yard::find<yard::Prop>(editor.yard(), put);
  ASSERT_TRUE(prop);
  EXPECT_EQ(prop->name, "Ring");
  EXPECT_EQ(prop->at.x, base::feet(7));
  EXPECT_EQ(prop->parts.size(), 1u);
  EXPECT_EQ(yard::productOf(editor.yard(), *prop)->fullWhite.count, 37'000);
  const auto measured = yard::all<yard::Measurement>(editor.yard());
  ASSERT_EQ(measured.size(), 1u);
  EXPECT_EQ(measured.front().second->at.record, put);
  EXPECT_EQ(measured.front().second->amps.count, 1'900'000);
  EXPECT_TRUE(checkSavable(editor.yard()));
}

TEST_F(MyProps, PutTwiceAddItsPixelOnceAndGetFreeNames) {
  const auto library = withMyProp(yard::emptyYard(), withRing(), ring);
  ASSERT_TRUE(library);
  edit::Editor editor(yard::emptyYard());
  const std::size_t products = yard::all<yard::Product>(editor.yard()).size();
  const Id mine = myPropNames(*library).front().first;
  putMyProp(editor, *library, mine, {});
  const Id second = putMyProp(editor, *library, mine, {});
  EXPECT_EQ(yard::all<yard::Product>(editor.yard()).size(), products + 1);
  EXPECT_NE(yard::find<yard::Prop>(editor.yard(), second)->name, "Ring");
}

TEST_F(MyProps, KeptAgainReplaceTheOldOneWithItsMeasurements) {
  const yard::Yard yard = withRing();
  const auto once = withMyProp(yard::emptyYard(), yard, ring);
  const auto twice = withMyProp(*once, yard, ring);
  ASSERT_TRUE(twice);
  EXPECT_EQ(yard::all<yard::Prop>(*twice).size(), 1u);
  EXPECT_EQ(yard::all<yard::Measurement>(*twice).size(), 1u);
  EXPECT_TRUE(yard::all<yard::Prop>(withoutMyProp(*twice, myPropNames(*twice).front().first)).empty());
}

TEST_F(MyProps, ALibraryThatCannotBeReadIsLeftAloneAndToldOf) {
  const fs::path path = folder / "my-props.yard";
  std::ofstream(path)
      << "{\"format\":\"yardwright\",\"version\":99,\"next_id\":1,\n\"records\":[\n],\n\"blobs\":{\n}}\n";
  const auto read = readMyProps(path);
  ASSERT_FALSE(read);
  EXPECT_FALSE(base::text(read.error()).empty());
  EXPECT_FALSE(withMyProp(yard::emptyYard(), yard::emptyYard(), Id{7}));
}

TEST_F(MyProps, StandWhereTheBaseDirectorySpecificationSays) {
  const char* data = std::getenv("XDG_DATA_HOME");
  const std::string before = data ? data : "";
  setenv("XDG_DATA_HOME", folder.c_str(), 1);
  EXPECT_EQ(myPropsFile(), folder / "yardwright" / "my-props.yard");
  setenv("XDG_DATA_HOME", "not/absolute", 1);
  EXPECT_NE(myPropsFile().string().rfind("not", 0), 0u);
  data ? setenv("XDG_DATA_HOME", before.c_str(), 1) : unsetenv("XDG_DATA_HOME");
}

}  // namespace
}  // namespace yw::file
