// Amps, volts, percent, counts and money: the whole text or a refusal, the same in every locale.
#include <gtest/gtest.h>

#include <QLineEdit>
#include <QLocale>
#include <QTest>

#include "ui/fields/value_text.h"

namespace yw::ui {

namespace {

using yard::FieldType;
using yard::FieldValue;

yard::FieldInfo field(FieldType type, std::int64_t most = INT64_MAX) {
  yard::FieldInfo info{};
  info.type = type;
  info.least = INT64_MIN;
  info.most = most;
  return info;
}

/// What `typed` makes of `before`; nothing when it is refused.
std::optional<std::int64_t> read(const yard::FieldInfo& info, const char* typed, std::int64_t before = 0) {
  const auto edit = readTyped(info, QString::fromUtf8(typed), {});
  if (!edit) return std::nullopt;
  return std::get<std::int64_t>((*edit)(FieldValue(before)));
}

}  // namespace

TEST(NumberText, ReadsItsUnitAndItsPrefixes) {
  EXPECT_EQ(read(field(FieldType::Voltage), "12"), 12'000'000);
  EXPECT_EQ(read(field(FieldType::Voltage), "11,8 V"), 11'800'000);
  EXPECT_EQ(read(field(FieldType::Current, 100'000'000), "4.5 A"), 4'500'000);
  EXPECT_EQ(read(field(FieldType::Current, 100'000'000), "55 mA"), 55'000);
  EXPECT_EQ(read(field(FieldType::Current, 1'000'000), "55"), 55'000);  // a pixel's own field counts mA
  EXPECT_EQ(read(field(FieldType::Ratio), "30 %"), 300'000);
  EXPECT_EQ(read(field(FieldType::Money), "$4.25"), 42'500);
  EXPECT_EQ(read(field(FieldType::Duration, 100'000'000), "300"), 300'000);
  EXPECT_EQ(read(field(FieldType::Count), "50"), 50);
}

TEST(NumberText, RefusesWhatItCannotTakeWhole) {
  EXPECT_FALSE(read(field(FieldType::Voltage), "12 A"));
  EXPECT_FALSE(read(field(FieldType::Voltage), "twelve"));
  EXPECT_FALSE(read(field(FieldType::Voltage), ""));
  EXPECT_FALSE(read(field(FieldType::Count), "2.5"));
  EXPECT_FALSE(read(field(FieldType::Count), "1,000"));
  EXPECT_FALSE(read(field(FieldType::Voltage), "1e30"));
}

TEST(NumberText, ChangesEachValueByAnOperator) {
  EXPECT_EQ(read(field(FieldType::Length), "+=2ft", base::feet(3).count), base::feet(5).count);
  EXPECT_EQ(read(field(FieldType::Length), "-=6in", base::feet(1).count), base::inches(6).count);
  EXPECT_EQ(read(field(FieldType::Length), "*=1.5", base::feet(2).count), base::feet(3).count);
  EXPECT_EQ(read(field(FieldType::Count), "/=4", 100), 25);
  EXPECT_FALSE(read(field(FieldType::Count), "/=0", 100));
}

/// What is shown is read back as what it was, for every type and both systems.
TEST(NumberText, ShowsWhatItReads) {
  for (const auto units : {base::UnitSystem::FeetInches, base::UnitSystem::Metric}) {
    for (const FieldType type :
         {FieldType::Voltage, FieldType::Current, FieldType::Resistance, FieldType::Power, FieldType::Ratio,
          FieldType::Money, FieldType::Frequency, FieldType::Temperature, FieldType::Mass, FieldType::Angle,
          FieldType::Count}) {
      for (const std::int64_t count : {0, 250'000, -40'000, 12'000'000}) {
        const TextStyle style{units, "$"};
        const QString text = valueText(field(type), FieldValue(count), style);
        const auto edit = readTyped(field(type), text, style);
        ASSERT_TRUE(edit) << text.toStdString();
        EXPECT_EQ(std::get<std::int64_t>((*edit)(FieldValue(std::int64_t{0}))), count) << text.toStdString();
      }
    }
  }
}

TEST(NumberText, IsTheSameForAReaderOfGerman) {
  const QLocale before;
  QLocale::setDefault(QLocale(QLocale::German, QLocale::Germany));
  EXPECT_EQ(read(field(FieldType::Length), "3.8m"), 3'800'000'000);
  EXPECT_EQ(read(field(FieldType::Length), "3,8m"), 3'800'000'000);
  EXPECT_EQ(valueText(field(FieldType::Voltage), FieldValue(std::int64_t{10'200'000}), {}),
            QStringLiteral("10.2"));
  QLocale::setDefault(before);
}

}  // namespace yw::ui
