#include "core/file/yard_file.h"

#include <gtest/gtest.h>

#include <clocale>
#include <nlohmann/json.hpp>

#include "core/base/hash.h"
#include "core/edit/change.h"

namespace yw::file {
namespace {

using namespace yard;
namespace fs = std::filesystem;

/// A yard with several kinds and a picture.
Yard sample() {
  edit::Editor edit(emptyYard());
  const Id prop = edit.add(Prop{.name = "Arch \"1\"\n", .kind = "arch", .sizes = {{"span", 2'000'000'000}}});
  const Id controller = edit.add(Controller{.name = "Main", .sections = {{}}});
  const Id port = edit.add(Port{.owner = controller});
  edit.add(
      yard::Run{.port = port,
                .items = {{.prop = prop, .first = 1, .last = 50}, {.prop = prop, .first = 51, .last = 99}}});
  edit.add(GroundFeature{.name = "Café", .outline = {{{1}, {2}}, {{3}, {-4}}}});
  const std::string picture = "not really \x89PNG";
  edit.add(GroundFeature{.kind = FeatureKind::SightTriangle,
                         .name = "Corner",
                         .outline = {{{0}, {0}}, {{5}, {0}}, {{0}, {5}}},
                         .clearFrom = base::inches(30),
                         .clearTo = base::feet(8)});
  edit.add(Wall{.name = "Front",
                .to = {base::feet(30), {}},
                .photo = base::sha256(picture),
                .photoAt = {{-7}, {9}},
                .photoWidth = base::feet(40),
                .photoFade = 30});
  edit.update<Site>(siteId(edit.yard()), [&](Site& s) { s.photo = base::sha256(picture); });
  Yard yard = edit.yard();
  yard.blobs.emplace(base::sha256(picture), std::make_shared<const std::string>(picture));
  return yard;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

std::vector<std::string> noteKeys(const Opened& opened) {
  std::vector<std::string> keys;
  for (const base::Message& note : opened.notes) {
    EXPECT_TRUE(base::hasWording(note.key)) << note.key;
    keys.push_back(note.key);
  }
  return keys;
}

TEST(YardFile, BeginsWithFormatAndVersionAndHasOneRecordALine) {
  const std::string bytes = bytesOf(sample());
  EXPECT_TRUE(bytes.starts_with("{\"format\":\"yardwright\",\"version\":1,\"next_id\":"))
      << bytes.substr(0, 60);
  const auto json = nlohmann::json::parse(bytes);
  EXPECT_EQ(json["records"].size(), sample().records.size());
  EXPECT_EQ(json["blobs"].size(), 1u);
  std::size_t recordLines = 0;
  for (std::size_t at = bytes.find("\n{\"id\":"); at != std::string::npos;
       at = bytes.find("\n{\"id\":", at + 1))
    ++recordLines;
  EXPECT_EQ(recordLines, sample().records.size());
  EXPECT_EQ(bytes.back(), '\n');
}

TEST(YardFile, OpensWhatItWroteToTheSameYardAndBytes) {
  for (const Yard& yard : {emptyYard(), sample()}) {
    const std::string bytes = bytesOf(yard);
    const auto opened = parse(bytes);
    ASSERT_TRUE(opened) << base::text(opened.error());
    EXPECT_TRUE(opened->yard == yard);
    EXPECT_EQ(bytesOf(opened->yard), bytes);
    EXPECT_FALSE(opened->normalised);
    EXPECT_TRUE(opened->notes.empty());
  }
}

TEST(YardFile, IsTheSameUnderACommaLocale) {
  const std::string before = bytesOf(sample());
  for (const char* locale : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "fr_FR.utf8"})
    if (std::setlocale(LC_ALL, locale) != nullptr) break;
  EXPECT_EQ(bytesOf(sample()), before);
  EXPECT_TRUE(parse(before)->yard == sample());
  std::setlocale(LC_ALL, "C");
}

TEST(YardFile, LeavesOutPicturesThatNoRecordNames) {
  Yard yard = sample();
  const std::string bytes = bytesOf(yard);
  yard.blobs.emplace(base::sha256("undone"), std::make_shared<const std::string>("undone"));
  EXPECT_EQ(bytesOf(yard), bytes);
}

TEST(YardFile, NormalisesWhatWasEditedByHand) {
  const Yard yard = sample();
  const std::string bytes = bytesOf(yard);
  const std::string indented = nlohmann::ordered_json::parse(bytes).dump(4);
  const std::string sorted = nlohmann::json::parse(bytes).dump();
  const std::string withoutDefault = replaced(bytes, ",\"locked\":false", "");
  for (const std::string& edited : {indented, sorted, withoutDefault, bytes + "\n"}) {
    ASSERT_NE(edited, bytes);
    const auto opened = parse(edited);
    ASSERT_TRUE(opened) << base::text(opened.error());
    EXPECT_TRUE(opened->normalised);
    EXPECT_EQ(noteKeys(*opened), std::vector<std::string>{"file_normalised"});
    EXPECT_EQ(bytesOf(opened->yard), bytes);
  }
}

TEST(YardFile, TakesRecordsInAnyOrder) {
  const std::string bytes = bytesOf(emptyYard());
  auto json = nlohmann::ordered_json::parse(bytes);
  std::reverse(json["records"].begin(), json["records"].end());
  const auto opened = parse(json.dump());
  ASSERT_TRUE(opened);
  EXPECT_EQ(bytesOf(opened->yard), bytes);
}

TEST(YardFile, TakesAByteOrderMarkAndWindowsLineEndsWithANote) {
  const std::string bytes = bytesOf(sample());
  const auto marked = parse("\xEF\xBB\xBF" + bytes);
  ASSERT_TRUE(marked);
  EXPECT_EQ(noteKeys(*marked), std::vector<std::string>{"file_had_mark"});
  EXPECT_EQ(bytesOf(marked->yard), bytes);
  const auto windows = parse(replaced(bytes, "\n", "\r\n"));
  ASSERT_TRUE(windows);
  EXPECT_EQ(noteKeys(*windows), std::vector<std::string>{"file_had_returns"});
  EXPECT_TRUE(windows->normalised);
  EXPECT_EQ(bytesOf(windows->yard), bytes);
}

TEST(YardFile, ForgetsAPictureThatIsMissingAndSaysSo) {
  const std::string bytes = bytesOf(sample());
  auto json = nlohmann::ordered_json::parse(bytes);
  json["blobs"].clear();
  const auto opened = parse(json.dump());
  ASSERT_TRUE(opened);
  EXPECT_EQ(noteKeys(*opened), (std::vector<std::string>{"file_picture_missing", "file_picture_missing"}));
  EXPECT_EQ(site(opened->yard).photo, "");
  for (const auto& [id, wall] : all<Wall>(opened->yard)) EXPECT_EQ(wall->photo, "");
  EXPECT_TRUE(opened->normalised);
}

TEST(YardFile, CutOffAnywhereIsAnErrorAndNeverACrash) {
  const std::string bytes = bytesOf(sample());
  int cuts = 0;
  for (std::size_t cut = 0; cut < bytes.size() - 1; cut += 97, ++cuts) {
    const auto opened = parse(bytes.substr(0, cut));
    ASSERT_FALSE(opened) << cut;
    EXPECT_EQ(opened.error().code, base::ErrorCode::Unreadable);
    EXPECT_EQ(opened.error().message.key, cut == 0 ? "file_empty" : "file_cut_off") << cut;
  }
  EXPECT_GT(cuts, 50);
}

TEST(YardFile, AnyFlippedByteIsReadOrRefusedButNeverACrash) {
  const std::string bytes = bytesOf(sample());
  std::size_t refused = 0, tried = 0;
  for (std::size_t at = 0; at < bytes.size(); at += 41, ++tried) {
    for (const char other : {'\0', '"', '{', ']', '9', '-', '\x80'}) {
      std::string damaged = bytes;
      damaged[at] = other;
      refused += parse(damaged) ? 0 : 1;
    }
  }
  EXPECT_GT(refused, tried);  // at least the NUL each time
}

TEST(YardFile, TooLargeIsRefused) {
  const auto opened = parse(std::string(200'000'001, ' '));
  ASSERT_FALSE(opened);
  EXPECT_EQ(base::text(opened.error()),
            "The file is larger than 200 MB, and no yard is that large. Choose a yard file.");
}

TEST(YardFile, MigratesVersion0) {
  const auto opened = open(fs::path(YARDWRIGHT_ROOT) / "tests/files/old/version_0.yard");
  ASSERT_TRUE(opened) << base::text(opened.error());
  EXPECT_TRUE(opened->normalised);
  EXPECT_EQ(noteKeys(*opened), std::vector<std::string>{"file_migrated_0"});
  const Settings& s = settings(opened->yard);
  EXPECT_EQ(s.brightnessLimit, base::Ratio{450'000});
  EXPECT_EQ(s.addressMode, AddressMode::WholePixel);
  EXPECT_EQ(s.currency, "€");
  EXPECT_EQ(find<Prop>(opened->yard, Id{4})->name, "Ring");
  EXPECT_EQ(opened->yard.nextId, 6);
  const auto again = parse(bytesOf(opened->yard));
  ASSERT_TRUE(again);
  EXPECT_FALSE(again->normalised);
}

TEST(YardFile, TakesAKnownCodeEditionForOneItHasNoFiguresOf) {
  const std::string bytes = bytesOf(emptyYard());
  const auto with = [&](const std::string& typed) {
    std::string changed = bytes;
    const std::string field = "\"code_edition\":\"NEC 2023\"";
    changed.replace(changed.find(field), field.size(), "\"code_edition\":\"" + typed + "\"");
    return parse(changed);
  };
  const auto opened = with("State code of 2017");
  ASSERT_TRUE(opened) << base::text(opened.error());
  EXPECT_EQ(settings(opened->yard).codeEdition, CodeEdition::Nec2017);
  EXPECT_EQ(noteKeys(*opened), std::vector<std::string>{"file_edition_taken"});
  EXPECT_TRUE(opened->normalised);
  EXPECT_EQ(settings(with("local")->yard).codeEdition, CodeEdition::Nec2023);
  EXPECT_TRUE(noteKeys(*with("NEC 2020")).empty());
}

TEST(YardFile, ErrorsOfOldFilesStillNameTheirLine) {
  const auto opened = parse(
      "{\"format\":\"yardwright\",\"version\":0,\"next_id\":6,\"records\":[\n\n"
      "{\"id\":1,\"kind\":\"settings\",\"cap\":\"full\"}]}");
  ASSERT_FALSE(opened);
  EXPECT_EQ(opened.error().where, "line 3, settings 1, field brightness_limit");
}

TEST(Savable, SaysWhatWouldNotOpenAgain) {
  EXPECT_TRUE(checkSavable(sample()));
  edit::Editor edit(sample());
  const Id prop = edit.add(Prop{.name = "Ring"});
  edit.add(yard::Run{.name = "one", .items = {{.prop = prop}}});
  edit.add(yard::Run{.name = "two", .items = {{.prop = prop, .first = 3, .last = 4}}});
  const auto checked = checkSavable(edit.yard());
  ASSERT_FALSE(checked);
  EXPECT_NE(base::text(checked.error()).find("(two)"), std::string::npos) << base::text(checked.error());
  edit::Editor other(sample());
  other.add(HouseCircuit{.breaker = {-1}});
  EXPECT_FALSE(checkSavable(other.yard()));
  other = edit::Editor(sample());
  other.add(Prop{.product = Id{999}});
  EXPECT_FALSE(checkSavable(other.yard()));
}

TEST(RunsOfAProp, MayShareItWithoutSharingPixels) {
  edit::Editor edit(emptyYard());
  const Id prop = edit.add(Prop{}), other = edit.add(Prop{});
  edit.add(yard::Run{.items = {{.prop = prop, .first = 11, .last = 20},
                               {.prop = other},
                               {.prop = prop, .first = 1, .last = 10}}});
  edit.add(yard::Run{.items = {{.prop = prop, .first = 21, .last = 21, .reversed = true}}});
  EXPECT_TRUE(checkSavable(edit.yard()));
}

}  // namespace
}  // namespace yw::file
