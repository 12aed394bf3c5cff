#include "core/yard/codec.h"

#include <gtest/gtest.h>

#include <clocale>

#include "core/yard/field_value.h"

namespace yw::yard {
namespace {

std::string refusal(const std::string& json) {
  const auto read = decode(json);
  return read ? "read" : base::text(read.error());
}

void expectRefusal(const std::string& json, const std::string& fragment) {
  const std::string text = refusal(json);
  EXPECT_NE(text.find(fragment), std::string::npos) << json << "\n  says: " << text;
}

TEST(Codec, WritesEveryFieldInOrder) {
  Outlet outlet{"Porch", Id{7}, Point{Length{-5}, Length{1'000'000}}, Length{450'000'000}};
  EXPECT_EQ(encode(Id{12}, outlet),
            R"({"id":12,"kind":"outlet","name":"Porch","circuit":7,"at":[-5,1000000],"height":450000000,)"
            R"("receptacle":15000000,"sockets":2})");
}

TEST(Codec, WritesListsMapsAndGroupsInsideOneLine) {
  Prop prop;
  prop.name = "Arch \"1\"\n";
  prop.sizes = {{"width", 3}, {"height", 2}};
  prop.path = {Point{Length{1}, Length{2}}, Point{}};
  prop.parts = {NamedPart{"left", {Range{1, 50}, Range{60, 60}}}};
  const std::string line = encode(Id{3}, prop);
  EXPECT_EQ(line.find('\n'), std::string::npos);
  EXPECT_NE(line.find(R"("name":"Arch \"1\"\n")"), std::string::npos) << line;
  EXPECT_NE(line.find(R"("sizes":{"height":2,"width":3})"), std::string::npos) << line;
  EXPECT_NE(line.find(R"("path":[[1,2],[0,0]])"), std::string::npos) << line;
  EXPECT_NE(line.find(R"("parts":[{"name":"left","ranges":[{"first":1,"last":50},{"first":60,"last":60}]}])"),
            std::string::npos)
      << line;
}

TEST(Codec, RecordsOfOlderFilesTakeTheUsualFiguresOfTheHouse) {
  const auto read = [](const char* line) {
    auto made = decode(line);
    EXPECT_TRUE(made) << line;
    return std::move(made->second);
  };
  const auto supply = std::get<Supply>(read(R"({"id":3,"kind":"supply","leakage":750})"));
  EXPECT_EQ(supply.leakage.count, 750);
  EXPECT_EQ(supply.inrush.count, 30'000'000);
  EXPECT_EQ(supply.derateFrom.count, 50'000);
  EXPECT_EQ(supply.derateTo.count, 60'000);
  EXPECT_EQ(supply.derateShare.count, 600'000);
  const auto box = std::get<Box>(read(R"({"id":4,"kind":"box","name":"K1"})"));
  EXPECT_EQ(box.cooling, BoxCooling::Closed);
  EXPECT_EQ(box.insideWidth.count, 0);
  EXPECT_EQ(std::get<Outlet>(read(R"({"id":5,"kind":"outlet"})")).receptacle.count, 15'000'000);
  EXPECT_FALSE(std::get<HouseCircuit>(read(R"({"id":6,"kind":"house_circuit"})")).staggered);
  EXPECT_EQ(std::get<Cable>(read(R"({"id":7,"kind":"cable"})")).pieces, 1);
  const auto settings = std::get<Settings>(read(R"({"id":1,"kind":"settings"})"));
  EXPECT_EQ(settings.codeEdition, CodeEdition::Nec2023);
  EXPECT_EQ(settings.leakageBudget.count, 3'000);
  EXPECT_EQ(settings.suppliesAtOnce, 4);
  EXPECT_EQ(settings.energyPrice.count, 0);
}

TEST(Codec, EveryKindComesBackAsItWas) {
  for (int k = 0; k < kRecordKinds; ++k) {
    const Record record = defaultRecord(static_cast<RecordKind>(k));
    EXPECT_EQ(kindOf(record), static_cast<RecordKind>(k));
    const auto back = decode(encode(Id{k + 1}, record));
    ASSERT_TRUE(back) << base::text(back.error());
    EXPECT_EQ(back->first.value, k + 1);
    EXPECT_EQ(back->second, record) << kindWords()[static_cast<std::size_t>(k)].name;
  }
}

TEST(Codec, AnIdeaKeepsItsRecordsAsText) {
  const std::string prop = encode(Id{4}, Prop{.name = "Arch \"1\""});
  const Idea idea{"One box less", "", false, {{4, prop, ""}}};
  const std::string line = encode(Id{9}, idea);
  EXPECT_EQ(line.find('\n'), std::string::npos);
  const auto back = decode(line);
  ASSERT_TRUE(back) << base::text(back.error());
  EXPECT_EQ(std::get<Idea>(back->second), idea);
  const auto inner = decode(std::get<Idea>(back->second).changes.at(0).before);
  ASSERT_TRUE(inner);
  EXPECT_EQ(std::get<Prop>(inner->second).name, "Arch \"1\"");
  EXPECT_TRUE(references(idea).empty());  // what it has otherwise need not be there
}

TEST(Codec, EveryWordOfEveryChoiceComesBack) {
  int choices = 0;
  for (int k = 0; k < kRecordKinds; ++k) {
    const auto kind = static_cast<RecordKind>(k);
    for (const FieldInfo& field : fieldsOf(kind)) {
      for (std::size_t i = 0; i < field.choices.size(); ++i, ++choices) {
        const auto record = withValue(defaultRecord(kind), field.name, static_cast<std::int64_t>(i));
        ASSERT_TRUE(record);
        const std::string line = encode(Id{1}, *record);
        EXPECT_NE(line.find("\"" + field.name + "\":\"" + field.choices[i].name + "\""), std::string::npos)
            << line;
        const auto back = decode(line);
        ASSERT_TRUE(back);
        EXPECT_EQ(back->second, *record);
      }
    }
  }
  EXPECT_GE(choices, 45);
}

TEST(Codec, MissingFieldsTakeTheirDefaults) {
  const auto read = decode(R"({"id":4,"kind":"house_circuit","name":"7"})");
  ASSERT_TRUE(read);
  EXPECT_EQ(std::get<HouseCircuit>(read->second), (HouseCircuit{.name = "7"}));
}

TEST(Codec, RefusesUnknownFieldsAndNamesTheNearest) {
  expectRefusal(R"({"id":4,"kind":"prop","nmae":"x"})", "prop 4, field nmae");
  expectRefusal(R"({"id":4,"kind":"prop","nmae":"x"})", "Did you mean \"name\"?");
  expectRefusal(R"({"id":4,"kind":"prop","zzzzzzzzzzzz":"x"})", "no field \"zzzzzzzzzzzz\". Correct");
}

TEST(Codec, RefusesUnknownWordsAndNamesTheNearest) {
  expectRefusal(R"({"id":4,"kind":"prop","status":"redy"})", "Did you mean \"ready\"?");
  expectRefusal(R"({"id":4,"kind":"prop","status":"redy"})",
                "ready, building, idea, needs_repair, not_this_year");
  expectRefusal(R"({"id":4,"kind":"proop"})", "Did you mean \"prop\"?");
}

TEST(Codec, NamesTheFieldInsideListsAndGroups) {
  expectRefusal(R"({"id":4,"kind":"run","name":"Roof","items":[{},{},{},{"prop":"x"}]})",
                "run 4 (Roof), field items[3].prop");
  expectRefusal(R"({"id":4,"kind":"prop","parts":[{"ranges":[{"first":0}]}]})",
                "field parts[0].ranges[0].first");
  expectRefusal(R"({"id":4,"kind":"cable","from":{"pixle":3}})", "field from.pixle");
  expectRefusal(R"({"id":4,"kind":"prop","sizes":{"height":"tall"}})", "field sizes.height");
  expectRefusal(R"({"id":4,"kind":"ground_feature","outline":[[0,0],[1]]})", "field outline[1]");
}

TEST(Codec, RefusesWrongTypes) {
  expectRefusal(R"({"id":4,"kind":"prop","name":5})", "Here stands 5, but this field takes text in quotes");
  expectRefusal(R"({"id":4,"kind":"prop","locked":1})", "true or false");
  expectRefusal(R"({"id":4,"kind":"prop","base":"3"})", "a whole number");
  expectRefusal(R"({"id":4,"kind":"prop","base":null})", "null");
  expectRefusal(R"({"id":4,"kind":"prop","path":{}})", "a list [ ]");
  expectRefusal(R"({"id":4,"kind":"prop","sizes":[]})", "a group { }");
  expectRefusal(R"({"id":4,"kind":"prop","status":2})", "a word in quotes");
  expectRefusal(R"({"id":4,"kind":"prop","at":[1,2,3]})", "a place [x,y]");
  expectRefusal(R"({"id":4,"kind":["prop"]})", "field kind");
}

TEST(Codec, RefusesNumbersThatAreNotWhole) {
  for (const char* number : {"1.5", "1.0", "1e3", "-0.0"})
    expectRefusal(std::string(R"({"id":4,"kind":"prop","base":)") + number + "}",
                  "a whole number of nanometers");
}

TEST(Codec, RefusesNumbersOutsideTheirLimits) {
  expectRefusal(R"({"id":4,"kind":"controller","pixels_per_port":0})", "from 1 to 100000");
  expectRefusal(R"({"id":4,"kind":"cable","own_length":-1})", "from 0 to 1000000000000 nanometers");
  expectRefusal(R"({"id":4,"kind":"prop","product":-3})", "field product");
  expectRefusal(R"({"id":4,"kind":"prop","base":9223372036854775807})", "9007199254740991 nanometers");
  expectRefusal(R"({"id":4,"kind":"prop","base":9223372036854775808})", "9223372036854775808 is outside");
  expectRefusal(R"({"id":4,"kind":"prop","base":-9223372036854775809})", "a whole number");
  expectRefusal(R"({"id":4,"kind":"prop","base":99999999999999999999999})", "a whole number");
  expectRefusal(R"({"id":4,"kind":"prop","base":1e999})", "JSON");
}

TEST(Codec, RefusesBadIdsAndText) {
  expectRefusal(R"({"kind":"prop"})", "no \"id\"");
  expectRefusal(R"({"id":0,"kind":"prop"})", "from 1 up");
  expectRefusal(R"({"id":-4,"kind":"prop"})", "from 1 up");
  expectRefusal(R"({"id":1.5,"kind":"prop"})", "from 1 up");
  expectRefusal(R"({"id":18446744073709551615,"kind":"prop"})", "from 1 up");
  expectRefusal(R"({"id":"4","kind":"prop"})", "from 1 up");
  expectRefusal(R"({"id":4})", "does not say what it is");
  expectRefusal(R"([4])", "a group in braces");
  expectRefusal(R"({"id":4,"kind":"prop")", "not complete JSON");
  expectRefusal("", "not complete JSON");
}

TEST(Codec, RefusesANameThatStandsTwice) {
  expectRefusal(R"({"id":4,"kind":"prop","name":"a","name":"b"})", "\"name\" stands twice");
  expectRefusal(R"({"id":4,"kind":"prop","sizes":{"w":1,"w":2}})", "\"w\" stands twice");
}

TEST(Codec, KeepsTextOfAnyAlphabet) {
  const Site site{.name = "Zufahrt Süd — 庭 🎄", .notes = "tab\t, \"quote\", back\\slash, \x01"};
  const auto back = decode(encode(Id{2}, site));
  ASSERT_TRUE(back);
  EXPECT_EQ(std::get<Site>(back->second), site);
}

TEST(Codec, ReplacesBytesThatAreNotText) {
  const auto back = decode(encode(Id{2}, Site{.name = "a\xFFz"}));
  ASSERT_TRUE(back);
  EXPECT_EQ(std::get<Site>(back->second).name, "a\xEF\xBF\xBDz");
}

TEST(Codec, IsTheSameUnderACommaLocale) {
  const std::string before = encode(Id{1}, Settings{});
  for (const char* locale : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"})
    if (std::setlocale(LC_ALL, locale) != nullptr) break;
  EXPECT_EQ(encode(Id{1}, Settings{}), before);
  expectRefusal(R"({"id":4,"kind":"prop","base":1.5})", "Here stands 1.5");
  std::setlocale(LC_ALL, "C");
}

}  // namespace
}  // namespace yw::yard
