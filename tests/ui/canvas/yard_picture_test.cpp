// Looks at what the Yard paints. With YARDWRIGHT_PICTURES set to a folder the pictures are kept there to be
// seen.
#include <gtest/gtest.h>

#include <QApplication>

#include "tests/ui/canvas/pictures.h"

namespace yw::ui {
namespace {

int inksOf(const QImage& image, const QColor& paper) {
  int other = 0;
  for (int y = 0; y < image.height(); ++y)
    for (int x = 0; x < image.width(); ++x)
      if (image.pixelColor(x, y) != paper) ++other;
  return other;
}

class YardPicture : public ::testing::TestWithParam<const char*> {};

TEST_P(YardPicture, ShowsTheSampleYard) {
  Document document;
  ASSERT_TRUE(document.open(samplePath(GetParam())));
  document.settle();
  YardView view(document);
  view.resize(1280, 800);
  view.show();
  const QString name = QString::fromLatin1(GetParam()).section(QLatin1Char('.'), 0, 0);
  const QImage fit = pictured(view, name + QStringLiteral("-fit"));
  EXPECT_GT(inksOf(fit, view.look().color(papers::Role::Paper)), 20'000);
  const auto props = yard::all<yard::Prop>(document.yard());
  ASSERT_FALSE(props.empty());
  document.selection().set({props.front().first});
  view.fitSelection();
  pictured(view, name + QStringLiteral("-close"));
  view.setColorBy(ColorBy::Run);
  view.fitAll();
  pictured(view, name + QStringLiteral("-runs"));
  view.setLook(Theme::Look::Dusk);
  view.setColorBy(ColorBy::Volts);
  pictured(view, name + QStringLiteral("-dusk"));
}

INSTANTIATE_TEST_SUITE_P(Samples, YardPicture,
                         ::testing::Values("porch-and-lawn.yard", "corner-lot.yard", "large-grounds.yard"));

}  // namespace
}  // namespace yw::ui
