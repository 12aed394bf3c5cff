// The picture under the Yard and under a wall: faded, checked, taken away; each one named step.
#include <gtest/gtest.h>

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QSignalSpy>
#include <QSlider>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/front_view.h"
#include "ui/canvas/tools/inline_entry.h"
#include "ui/canvas/tools/photo_scale_tool.h"
#include "ui/jobs/pdf_page.h"
#include "ui/panels/photo_panel.h"

namespace yw::ui {
namespace {

struct PhotoBench : Bench<FrontView> {
  PhotoPanel panel{document};
  base::Id wall;
  PhotoBench() {
    yard::Wall made;
    made.name = "South wall";
    made.to = {base::feet(30), {}};
    made.photo = document.addBlob("a picture");
    made.photoWidth = base::feet(30);
    wall = add(made);
    view.setWall(wall);
  }
  template <class W>
  W* find(const char* name) {
    return panel.findChild<W*>(QLatin1String(name));
  }
};

TEST(PhotoPanel, SaysHowFarTheYardsPictureCanBeTrusted) {
  PhotoBench bench;
  EXPECT_TRUE(bench.find<QLabel>("photoFacts")->text().startsWith("No picture yet"));
  EXPECT_FALSE(bench.find<QPushButton>("photoCheck")->isVisibleTo(&bench.panel));
  edit::Editor editor(bench.document.yard());
  editor.update<yard::Site>(yard::siteId(editor.yard()), [&](yard::Site& s) {
    s.photo = yard::find<yard::Wall>(editor.yard(), bench.wall)->photo;
    s.photoWidth = base::feet(100);
    s.scaleDistance = base::feet(40);
    s.checkTo = {base::feet(10), {}};
    s.checkDistance = base::inches(117);
  });
  bench.document.commit(editor.finish("add"));
  const QString facts = bench.find<QLabel>("photoFacts")->text();
  EXPECT_TRUE(facts.contains("2.56 % apart")) << facts.toStdString();  // 120 in drawn, 117 in on the tape
  EXPECT_TRUE(bench.find<QPushButton>("photoCheck")->isVisibleTo(&bench.panel));
}

TEST(PhotoPanel, FadesInOneStepHoweverLongTheHandSlides) {
  PhotoBench bench;
  bench.panel.setWall(bench.wall);
  const std::size_t before = bench.steps();
  auto* fade = bench.find<QSlider>("photoFade");
  for (const int percent : {40, 30, 20}) fade->setValue(percent);
  EXPECT_EQ(bench.steps(), before + 1);
  EXPECT_EQ(bench.undoName(), "Fade the picture");
  EXPECT_EQ(bench.get<yard::Wall>(bench.wall).photoFade, 20);
  bench.document.undo();
  EXPECT_EQ(bench.get<yard::Wall>(bench.wall).photoFade, 50);
  EXPECT_EQ(fade->value(), 50);
}

TEST(PhotoPanel, TakesThePictureOfTheWallAwayAndUndoBringsItBack) {
  PhotoBench bench;
  bench.panel.setWall(bench.wall);
  bench.find<QPushButton>("photoRemove")->click();
  EXPECT_TRUE(bench.get<yard::Wall>(bench.wall).photo.empty());
  bench.document.undo();
  EXPECT_FALSE(bench.get<yard::Wall>(bench.wall).photo.empty());
}

TEST(PhotoPanel, ScalesAWallsPictureByTwoClicksAndATypedDistance) {
  PhotoBench bench;
  bench.view.fit(QRectF(0, -4000, 10000, 4500), 0.0);
  bench.view.scalePhoto();
  const double drawn = 3.0;
  click(bench.view, bench.view.toView(QPointF(1000, -1000)).toPoint());
  click(bench.view, bench.view.toView(QPointF(4000, -1000)).toPoint());
  QLineEdit* edit = nullptr;
  for (auto* one : bench.view.viewport()->findChildren<QLineEdit*>(QStringLiteral("inlineLength")))
    if (one->isVisible()) edit = one;
  ASSERT_NE(edit, nullptr);
  edit->setText(QStringLiteral("6m"));
  QTest::keyClick(edit, Qt::Key_Return);
  EXPECT_EQ(bench.undoName(), "Scale the picture");
  EXPECT_NEAR(base::metres(bench.get<yard::Wall>(bench.wall).photoWidth).si, 30 * 0.3048 * 6.0 / drawn, 0.15);
}

TEST(PhotoPanel, MovesThePictureByAPlaceOnItAndWhereItBelongs) {
  PhotoBench bench;
  bench.view.fit(QRectF(-1000, -4000, 11000, 4500), 0.0);
  auto tool = std::make_unique<PhotoScaleTool>(bench.view, bench.wall);
  tool->moveInstead();
  bench.view.setTool(std::move(tool));
  click(bench.view, bench.view.toView(QPointF(1000, -1500)).toPoint());
  click(bench.view, bench.view.toView(QPointF(3, -2)).toPoint());  // the wall's corner catches
  EXPECT_EQ(bench.undoName(), "Move the picture");
  const base::Vec2 at = base::vec(bench.get<yard::Wall>(bench.wall).photoAt);
  EXPECT_NEAR(at.x, -1.0, 0.02);
  EXPECT_NEAR(at.y, -1.5, 0.02);
  EXPECT_TRUE(bench.view.selecting());
}

TEST(PdfPage, SaysWhyAFileIsNoPdf) {
  QString why;
  EXPECT_EQ(pdfPages(QStringLiteral(YARDWRIGHT_ROOT "/README.md"), why), 0);
  EXPECT_FALSE(why.isEmpty());
}

}  // namespace
}  // namespace yw::ui
