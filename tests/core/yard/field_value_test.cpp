#include "core/yard/field_value.h"

#include <gtest/gtest.h>

#include <set>

namespace yw::yard {
namespace {

const FieldInfo& fieldNamed(const std::vector<FieldInfo>& fields, const std::string& name) {
  for (const FieldInfo& field : fields)
    if (field.name == name) return field;
  throw std::out_of_range(name);
}

std::string refusal(const Record& record, const std::string& field, const FieldValue& value) {
  const auto changed = withValue(record, field, value);
  if (changed) return "changed";
  EXPECT_TRUE(base::hasWording(changed.error().message.key)) << changed.error().message.key;
  return base::text(changed.error());
}

TEST(FieldValue, TellsWhichFieldsCountForAKindOfGround) {
  const auto counting = [](FeatureKind kind) {
    std::set<std::string> names;
    for (const FieldInfo& field : fieldsOf(RecordKind::GroundFeature))
      if (!field.hidden && fieldCounts(GroundFeature{.kind = kind}, field.name)) names.insert(field.name);
    return names;
  };
  using Names = std::set<std::string>;
  EXPECT_EQ(counting(FeatureKind::Walk), (Names{"feature", "name", "crossing_allowed"}));
  EXPECT_EQ(counting(FeatureKind::LotLine), (Names{"feature", "name"}));
  EXPECT_EQ(counting(FeatureKind::BuriedLine), (Names{"feature", "name", "reason", "tolerance"}));
  EXPECT_EQ(counting(FeatureKind::SightTriangle),
            (Names{"feature", "name", "reason", "clear_from", "clear_to"}));
  EXPECT_TRUE(fieldCounts(Wall{}, "eave_height"));
}

TEST(FieldValue, TellsTypesChoicesAndLimits) {
  const auto fields = fieldsOf(RecordKind::Supply);
  EXPECT_EQ(fields.front().name, "name");
  EXPECT_EQ(fieldNamed(fields, "name").type, FieldType::Text);
  EXPECT_EQ(fieldNamed(fields, "voltage").type, FieldType::Voltage);
  EXPECT_EQ(fieldNamed(fields, "voltage").least, 1'000'000);
  EXPECT_EQ(fieldNamed(fields, "rated_amps").type, FieldType::Current);
  EXPECT_EQ(fieldNamed(fields, "efficiency").type, FieldType::Ratio);
  EXPECT_EQ(fieldNamed(fields, "box").type, FieldType::Reference);
  EXPECT_EQ(fieldNamed(fields, "box").refersTo, std::vector{RecordKind::Box});
  EXPECT_EQ(fieldNamed(fields, "origin").type, FieldType::Choice);
  EXPECT_EQ(fieldNamed(fields, "origin").choices.size(), 3u);
  EXPECT_EQ(fieldNamed(fieldsOf(RecordKind::Run), "port_power").type, FieldType::Flag);
  EXPECT_EQ(fieldNamed(fieldsOf(RecordKind::Run), "items").type, FieldType::List);
  EXPECT_EQ(fieldNamed(fieldsOf(RecordKind::Outlet), "at").type, FieldType::Point);
  EXPECT_EQ(fieldNamed(fieldsOf(PowerSection{}), "limit").type, FieldType::Current);
  EXPECT_EQ(fieldNamed(fieldsOf(Opening{}), "width").type, FieldType::Length);
}

TEST(FieldValue, EveryFieldHasANameOfItsOwnAndALabel) {
  const std::string allowed = "abcdefghijklmnopqrstuvwxyz_";
  for (int k = 0; k < kRecordKinds; ++k) {
    std::set<std::string> names{"id", "kind"};
    for (const FieldInfo& field : fieldsOf(static_cast<RecordKind>(k))) {
      // A field called `kind` would hide the record's own kind in the file.
      EXPECT_TRUE(names.insert(field.name).second) << k << ' ' << field.name;
      EXPECT_EQ(field.name.find_first_not_of(allowed), std::string::npos) << field.name;
      EXPECT_FALSE(field.label.empty()) << field.name;
      EXPECT_LE(field.least, field.most) << field.name;
    }
  }
}

TEST(FieldValue, WhatIsPutIsWhatIsTaken) {
  for (int k = 0; k < kRecordKinds; ++k) {
    const Record record = defaultRecord(static_cast<RecordKind>(k));
    for (const FieldInfo& field : fieldsOf(static_cast<RecordKind>(k))) {
      const auto old = valueOf(record, field.name);
      ASSERT_EQ(old.has_value(), field.type != FieldType::List) << field.name;
      if (!old) continue;
      FieldValue wanted = *old;
      if (field.type == FieldType::Text)
        wanted = std::string("other");
      else if (field.type == FieldType::Point)
        wanted = Point{Length{-7}, Length{9}};
      else if (field.type == FieldType::Flag)
        wanted = 1 - std::get<std::int64_t>(*old);
      else if (field.type == FieldType::Choice)
        wanted = static_cast<std::int64_t>(field.choices.size()) - 1;
      else
        wanted = std::get<std::int64_t>(*old) < field.most ? std::get<std::int64_t>(*old) + 1 : field.least;
      const auto changed = withValue(record, field.name, wanted);
      ASSERT_TRUE(changed) << field.name << base::text(changed.error());
      EXPECT_EQ(valueOf(*changed, field.name), wanted) << field.name;
      EXPECT_EQ(*withValue(*changed, field.name, *old), record) << field.name;
    }
  }
}

TEST(FieldValue, RefusesWhatDoesNotFitAndSaysWhy) {
  const Record supply = Supply{};
  EXPECT_EQ(refusal(supply, "voltage", std::int64_t{0}),
            "Output volts: 0.00 V is outside the limits. It must be from 1.00 V to 60.00 V.");
  EXPECT_NE(refusal(supply, "voltage", std::string("12")).find("Output volts takes another type"),
            std::string::npos);
  EXPECT_NE(refusal(supply, "origin", std::int64_t{3}).find("outside"), std::string::npos);
  EXPECT_NE(refusal(supply, "box", std::int64_t{-1}).find("too small"), std::string::npos);
  EXPECT_NE(refusal(supply, "volts", std::int64_t{1}).find("no field \"volts\""), std::string::npos);
  EXPECT_NE(refusal(yard::Run{}, "items", std::int64_t{1}).find("is a list"), std::string::npos);
  EXPECT_NE(refusal(yard::Run{}, "port_power", std::int64_t{2}).find("outside"), std::string::npos);
  EXPECT_NE(refusal(Outlet{}, "at", Point{Length{INT64_MAX}, Length{}}).find("farther away"),
            std::string::npos);
  EXPECT_NE(refusal(Outlet{}, "at", Point{Length{}, Length{INT64_MIN}}).find("farther away"),
            std::string::npos);
  EXPECT_NE(refusal(Site{}, "budget", std::int64_t{-1}).find("too small"), std::string::npos);
  EXPECT_NE(refusal(Site{}, "gust", INT64_MAX).find("too large"), std::string::npos);
}

TEST(FieldValue, ReadsAndWritesNestedGroups) {
  const auto section = withValue(PowerSection{}, "limit", std::int64_t{20'000'000});
  ASSERT_TRUE(section);
  EXPECT_EQ(section->limit, Current{20'000'000});
  EXPECT_EQ(valueOf(*section, "limit"), FieldValue{std::int64_t{20'000'000}});
  const auto opening = withValue(Opening{}, "kind", std::int64_t{1});
  ASSERT_TRUE(opening);
  EXPECT_EQ(opening->kind, OpeningKind::Door);
  EXPECT_FALSE(withValue(Opening{}, "width", std::int64_t{-1}));
}

}  // namespace
}  // namespace yw::yard
