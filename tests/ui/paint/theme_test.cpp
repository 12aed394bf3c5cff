#include "ui/paint/theme.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace yw::ui {
namespace {

using papers::Role;

constexpr Theme::Look kLooks[] = {Theme::Look::Paper, Theme::Look::Light, Theme::Look::Dusk};

// WCAG 2.2, 1.4.3: text needs 4.5:1.
TEST(Theme, TextStandsOffThePaper) {
  for (const Theme::Look look : kLooks)
    for (const Role role : {Role::Ink, Role::SecondInk, Role::Accent, Role::Danger, Role::House, Role::Frame})
      EXPECT_GE(contrast(Theme::of(look).color(role), Theme::of(look).color(Role::Paper)), 4.5)
          << static_cast<int>(look) << " role " << static_cast<int>(role);
}

// WCAG 2.2, 1.4.11: lines need 3:1.
TEST(Theme, LinesStandOffThePaper) {
  for (const Theme::Look look : kLooks)
    for (const Role role : {Role::Ground, Role::KeepOut, Role::Pixel, Role::DataCable, Role::FeedCable,
                            Role::MainsCable, Role::Blank})
      EXPECT_GE(contrast(Theme::of(look).color(role), Theme::of(look).color(Role::Paper)), 3.0)
          << static_cast<int>(look) << " role " << static_cast<int>(role);
}

// WCAG 2.2, relative luminance: black on white is 21:1; the greys are its worked figures.
TEST(Theme, ContrastFollowsThePublishedFormula) {
  EXPECT_NEAR(contrast(Qt::black, Qt::white), 21.0, 1e-9);
  EXPECT_NEAR(contrast(QColor(0x76, 0x76, 0x76), Qt::white), 4.54, 0.01);
}

TEST(Theme, DuskIsNeverPureBlackOrWhite) {
  const Theme& dusk = Theme::of(Theme::Look::Dusk);
  for (const Role role : {Role::Ink, Role::Paper}) {
    EXPECT_NE(dusk.color(role), QColor(Qt::black));
    EXPECT_NE(dusk.color(role), QColor(Qt::white));
  }
}

// Okabe & Ito (2008).
TEST(Theme, KindsAreThePublishedEight) {
  const Theme& paper = Theme::of(Theme::Look::Paper);
  EXPECT_EQ(paper.color(Role::Kind1), QColor(0, 0, 0));
  EXPECT_EQ(paper.color(Role::Kind2), QColor(0, 114, 178));
  EXPECT_EQ(paper.color(Role::Kind6), QColor(230, 159, 0));
  EXPECT_EQ(paper.color(Role::Kind8), QColor(240, 228, 66));
}

// Nuñez, Anderton, Renslow (2018), supplement: first, middle and last of the 256 colors.
TEST(Theme, MagnitudeIsCividis) {
  const Theme& theme = Theme::of(Theme::Look::Light);
  EXPECT_EQ(theme.magnitude(0.0), QColor(0, 34, 78));
  EXPECT_EQ(theme.magnitude(1.0), QColor(254, 232, 56));
  EXPECT_NEAR(theme.magnitude(0.5).red(), 124, 3);
  EXPECT_NEAR(theme.magnitude(0.5).blue(), 121, 3);
}

TEST(Theme, MagnitudeIsClampedAndEverLighter) {
  const Theme& theme = Theme::of(Theme::Look::Light);
  EXPECT_EQ(theme.magnitude(-3.0), theme.magnitude(0.0));
  EXPECT_EQ(theme.magnitude(7.0), theme.magnitude(1.0));
  EXPECT_EQ(theme.magnitude(std::nan("")), theme.magnitude(0.0));
  double before = 0.0;
  for (int i = 0; i <= 100; ++i) {
    const double light = contrast(theme.magnitude(i / 100.0), Qt::black);
    EXPECT_GE(light, before) << i;
    before = light;
  }
}

}  // namespace
}  // namespace yw::ui
