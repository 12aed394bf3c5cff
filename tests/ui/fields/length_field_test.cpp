// The one length field: whole text or refusal, as hands type it.
#include <gtest/gtest.h>

#include <QLineEdit>
#include <QTest>

#include "core/base/quantity.h"
#include "ui/fields/typed_field.h"

namespace yw::ui {

struct Typing {
  LengthField field{LengthField::Scale::Yard};
  std::vector<std::int64_t> stored{base::feet(3).count};
  int commits = 0;

  Typing() {
    field.setCommitter([this](const FieldEdit& edit, const std::string&) -> QString {
      for (std::int64_t& value : stored) value = std::get<std::int64_t>(edit(value));
      ++commits;
      return {};
    });
    show();
    field.show();
  }
  void show() {
    std::vector<yard::FieldValue> values(stored.begin(), stored.end());
    field.display(values, base::UnitSystem::FeetInches);
  }
  void type(const QString& text) {
    field.edit()->setFocus();
    field.edit()->selectAll();
    QTest::keyClicks(field.edit(), text);
  }
  void enter(const QString& text) {
    type(text);
    QTest::keyClick(field.edit(), Qt::Key_Return);
  }
};

// Forms and values: what hands already know of editors that draw to scale (feet are the field's unit here).
TEST(LengthField, ReadsEveryFormThatHandsType) {
  const std::pair<const char*, double> forms[] = {
      {"12' 6\"", 3.81},  {"12'6 1/2\"", 3.8227}, {"6-1/2\"", 0.1651}, {"12ft 6in", 3.81},
      {"12.5ft", 3.81},   {"3.8m", 3.8},          {"3,8m", 3.8},       {"380cm", 3.8},
      {"150/4ft", 11.43}, {"2*(4'+6\")", 2.7432}, {"12.5", 3.81}};
  for (const auto& [text, metres] : forms) {
    Typing t;
    t.enter(QString::fromLatin1(text));
    EXPECT_NEAR(base::metres(base::Length{t.stored[0]}).si, metres, 5e-10) << text;
    EXPECT_EQ(t.commits, 1) << text;
  }
}

TEST(LengthField, RefusesTheWholeTextWithTheReasonAndKeepsTheValue) {
  for (const char* text : {"1,000", "12' 6\" or so", "7 7", "abc", "1/0"}) {
    Typing t;
    t.enter(QString::fromLatin1(text));
    EXPECT_EQ(t.commits, 0) << text;
    EXPECT_EQ(t.stored[0], base::feet(3).count) << text;
    EXPECT_FALSE(t.field.reason().isEmpty() && t.field.reading().isEmpty()) << text;
    EXPECT_EQ(t.field.edit()->text(), QString::fromLatin1(text)) << "what was typed stays to be mended";
  }
}

TEST(LengthField, EscapeRestores) {
  Typing t;
  t.type(QStringLiteral("9ft"));
  QTest::keyClick(t.field.edit(), Qt::Key_Escape);
  EXPECT_EQ(t.commits, 0);
  EXPECT_EQ(t.field.edit()->text(), QStringLiteral("3′ 0″"));
}

TEST(LengthField, ShowsTheReadingInBothUnits) {
  Typing t;
  t.type(QStringLiteral("12.5"));
  EXPECT_TRUE(t.field.reading().contains(QStringLiteral("12′ 6″"))) << t.field.reading().toStdString();
  EXPECT_TRUE(t.field.reading().contains(QStringLiteral("3.81 m"))) << t.field.reading().toStdString();
}

TEST(LengthField, SetsAllOfSeveralAtOnce) {
  Typing t;
  t.stored = {base::feet(3).count, base::feet(5).count};
  t.show();
  EXPECT_TRUE(t.field.edit()->text().isEmpty());
  EXPECT_TRUE(t.field.edit()->placeholderText().contains(QStringLiteral("several")));
  t.enter(QStringLiteral("4'"));
  EXPECT_EQ(t.commits, 1);
  EXPECT_EQ(t.stored, (std::vector<std::int64_t>{base::feet(4).count, base::feet(4).count}));
}

TEST(LengthField, WheelOverAFieldThatHasNoFocusChangesNothing) {
  Typing t;
  t.field.edit()->clearFocus();
  QWheelEvent turn(QPointF(5, 5), t.field.edit()->mapToGlobal(QPointF(5, 5)), {}, QPoint(0, 120),
                   Qt::NoButton, {}, Qt::NoScrollPhase, false);
  QApplication::sendEvent(t.field.edit(), &turn);
  EXPECT_EQ(t.commits, 0);
}

}  // namespace yw::ui
