// Ideas in the yard file: kept byte for byte, older files load, damage is told, pictures are not lost.
#include <gtest/gtest.h>

#include "core/file/ideas_in_file.h"
#include "core/file/yard_file.h"

namespace yw::file {
namespace {

using base::Id;
using edit::Editor;
using yard::Idea;
using yard::Yard;

Yard after(const Yard& yard, const base::Result<edit::Change>& change) {
  EXPECT_TRUE(change) << base::text(change.error());
  return change ? edit::apply(yard, *change) : yard;
}

struct WithProp {
  Yard yard = yard::emptyYard();
  Id prop;
  WithProp() {
    Editor e(yard);
    prop = e.add(yard::Prop{.name = "Arch 1", .kind = "arch"});
    yard = edit::apply(yard, e.finish("Place"));
  }
  void inIdea(const char* name) {
    yard = after(yard, edit::makeIdea(yard, name));
    Editor e(yard);
    e.update<yard::Prop>(prop, [](yard::Prop& p) { p.notes = "in the idea"; });
    yard = edit::apply(yard, e.finish("Note"));
  }
};

std::string refusal(const std::string& bytes) {
  const auto opened = parse(bytes);
  return opened ? "read" : base::text(opened.error());
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? text : text.replace(at, from.size(), to);
}

TEST(IdeasInFile, AreKeptByteForByteShownOrNot) {
  WithProp y;
  y.inIdea("Other");
  for (const Id shown : {edit::shownIdea(y.yard), Id{}}) {
    const Yard yard = after(y.yard, edit::showIdea(y.yard, shown));
    const std::string bytes = bytesOf(yard);
    const auto opened = parse(bytes);
    ASSERT_TRUE(opened) << base::text(opened.error());
    EXPECT_FALSE(opened->normalised);
    EXPECT_EQ(bytesOf(opened->yard), bytes);
    EXPECT_EQ(yard::find<yard::Prop>(opened->yard, y.prop)->notes, shown ? "in the idea" : "");
  }
}

TEST(IdeasInFile, OlderFilesHaveNone) {
  const WithProp y;
  const auto opened = parse(bytesOf(y.yard));
  ASSERT_TRUE(opened);
  EXPECT_TRUE(yard::all<Idea>(opened->yard).empty());
  EXPECT_EQ(bytesOf(y.yard).find("\"idea\""), std::string::npos);
}

TEST(IdeasInFile, TakeFieldsThatCameLaterAsTheirDefaults) {
  WithProp y;
  y.inIdea("Other");
  const std::string bytes = bytesOf(y.yard);
  const auto opened = parse(replaced(bytes, R"(,\"locked\":false)", ""));
  ASSERT_TRUE(opened) << base::text(opened.error());
  EXPECT_TRUE(opened->normalised);
  EXPECT_EQ(bytesOf(opened->yard), bytes);
}

TEST(IdeasInFile, SayWhatIsDamaged) {
  WithProp y;
  y.inIdea("Other");
  const std::string bytes = bytesOf(y.yard);
  const std::string number = std::to_string(y.prop.value);
  EXPECT_NE(refusal(replaced(bytes, R"(\"shape\":)", R"(\"shappe\":)")).find("shappe"), std::string::npos);
  EXPECT_NE(refusal(replaced(bytes, R"("before":"{\"id\":)" + number, R"("before":"{\"id\":1)" + number))
                .find("another record's"),
            std::string::npos);
  Editor e(y.yard);
  e.add(Idea{"Second", "", true, {}});
  const std::string two = refusal(bytesOf(edit::apply(y.yard, e.finish("By hand"))));
  EXPECT_NE(two.find("Other"), std::string::npos) << two;
  EXPECT_NE(two.find("Second"), std::string::npos) << two;
  EXPECT_FALSE(checkSavable(edit::apply(y.yard, e.finish("By hand"))));
}

TEST(IdeasInFile, KeepThePictureThatOnlyAnIdeaHas) {
  WithProp y;
  y.inIdea("Photo");
  const Id idea = edit::shownIdea(y.yard);
  const std::string key =
      "5feceb66ffc86f38d952786c6d696c79c2dbc239dd4e91b46729d73a27fb57e9";  // SHA-256 of "0"
  y.yard.blobs.emplace(key, std::make_shared<const std::string>("0"));
  Editor e(y.yard);
  e.update<yard::Site>(yard::siteId(y.yard), [&key](yard::Site& s) { s.photo = key; });
  y.yard = edit::apply(y.yard, e.finish("Picture"));
  y.yard = after(y.yard, edit::showIdea(y.yard, {}));
  EXPECT_TRUE(yard::site(y.yard).photo.empty());
  auto opened = parse(bytesOf(y.yard));
  ASSERT_TRUE(opened) << base::text(opened.error());
  opened->yard = after(opened->yard, edit::showIdea(opened->yard, idea));
  EXPECT_EQ(yard::site(opened->yard).photo, key);
  EXPECT_TRUE(opened->yard.blobs.contains(key));
}

TEST(IdeasInFile, AnIdeaThatNoLongerStandsIsRefusedWithTheReason) {
  WithProp y;
  y.yard = after(y.yard, edit::makeIdea(y.yard, "Strung"));
  const Id idea = edit::shownIdea(y.yard);
  Editor e(y.yard);
  e.add(yard::Run{.name = "Run 1", .items = {{.prop = y.prop}}});
  y.yard = edit::apply(y.yard, e.finish("String it"));
  y.yard = after(y.yard, edit::showIdea(y.yard, {}));
  Editor out(y.yard);
  out.remove(y.prop);
  const Yard without = edit::apply(y.yard, out.finish("Take the arch out"));
  const auto refused = wholeOrRefused(without, edit::showIdea(without, idea), idea);
  ASSERT_FALSE(refused);
  EXPECT_NE(base::text(refused.error()).find("Strung"), std::string::npos) << base::text(refused.error());
  EXPECT_TRUE(wholeOrRefused(y.yard, edit::showIdea(y.yard, idea), idea));
  // A second run through the same prop would put its pixels into two runs.
  Editor second(y.yard);
  second.add(yard::Run{.name = "Run 2", .items = {{.prop = y.prop}}});
  const Yard strung = edit::apply(y.yard, second.finish("String it otherwise"));
  EXPECT_FALSE(wholeOrRefused(strung, edit::showIdea(strung, idea), idea));
}

}  // namespace
}  // namespace yw::file
