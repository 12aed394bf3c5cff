// Looks at what tools and zooms paint. With YARDWRIGHT_PICTURES set to a folder the pictures are kept there
// to be seen.
#include <gtest/gtest.h>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/edits.h"

namespace yw::ui {
namespace {

struct Sample {
  Document document;
  std::unique_ptr<YardView> view;
  explicit Sample(const char* name) {
    EXPECT_TRUE(document.open(samplePath(name)));
    document.settle();
    view = std::make_unique<YardView>(document);
    view->resize(1280, 800);
    view->show();
  }
  base::Id prop(const std::string& name) {
    for (const auto& [id, prop] : yard::all<yard::Prop>(document.yard()))
      if (prop->name == name) return id;
    return {};
  }
  QPoint at(base::Id id) { return view->toView(view->canvas().item(id)->extent().center()).toPoint(); }
};

TEST(ToolPicture, NumbersShowWhenZoomedIn) {
  Sample sample("corner-lot.yard");
  const base::Id tree = sample.prop("Little tree 1");
  ASSERT_TRUE(tree);
  sample.document.selection().setPixel(tree, 12);
  sample.view->fitSelection();
  const QImage near = pictured(*sample.view, QStringLiteral("zoom-near"));
  sample.view->zoomAt(4, QPointF(640, 300));
  const QImage close = pictured(*sample.view, QStringLiteral("zoom-close"));
  EXPECT_NE(near, close);
}

TEST(ToolPicture, ARunBeingPulledShowsWhatWouldFollow) {
  Sample sample("porch-and-lawn.yard");
  edit::Editor editor(sample.document.yard());
  yard::Prop arch = shapes::usualProp("arch");
  arch.name = "Arch 9";
  arch.at = base::point(base::Vec2{-2, -6});
  const base::Id id = editor.add(arch);
  sample.document.commit(editor.finish("add"));
  sample.document.settle();
  const auto runs = yard::all<yard::Run>(sample.document.yard());
  ASSERT_FALSE(runs.empty());
  sample.document.selection().set({runs.front().first});
  sample.view->fitAll();
  const QImage before = pictured(*sample.view, QStringLiteral("run-selected"));
  sample.view->pullRun();
  hover(*sample.view, sample.at(id));
  QTest::qWait(300);
  const QImage during = pictured(*sample.view, QStringLiteral("run-pulling"));
  EXPECT_NE(before, during);
}

TEST(ToolPicture, DraggingShowsWhatCatches) {
  Sample sample("porch-and-lawn.yard");
  const base::Id star = sample.prop("Star"), tree = sample.prop("Little tree");
  ASSERT_TRUE(star && tree);
  const QPoint from = sample.at(star);
  const QImage before = pictured(*sample.view, QStringLiteral("drag-before"));
  QTest::mousePress(sample.view->viewport(), Qt::LeftButton, {}, from);
  for (const QPoint to : {from + QPoint(20, 40), QPoint(from.x() + 20, sample.at(tree).y() + 2)}) {
    QMouseEvent move(QEvent::MouseMove, to, sample.view->viewport()->mapToGlobal(to), Qt::NoButton,
                     Qt::LeftButton, {});
    QApplication::sendEvent(sample.view->viewport(), &move);
  }
  EXPECT_NE(before, pictured(*sample.view, QStringLiteral("drag-during")));
  key(*sample.view, Qt::Key_Escape);
  QTest::mouseRelease(sample.view->viewport(), Qt::LeftButton, {}, from);
  sample.document.selection().clear();
  sample.document.settle();
  hover(*sample.view, QPoint(5, 5));
  EXPECT_EQ(before, pictured(*sample.view, QStringLiteral("drag-after")))
      << "Escape leaves everything as it was";
}

TEST(ToolPicture, DrawingMeasuringAndTypingOverThePlan) {
  Sample sample("porch-and-lawn.yard");
  sample.view->setLayerShown(Layer::Grid, true);
  const QImage before = pictured(*sample.view, QStringLiteral("grid"));
  sample.view->drawFeature(yard::FeatureKind::Bed);
  click(*sample.view, QPoint(900, 300));
  click(*sample.view, QPoint(1000, 300));
  hover(*sample.view, QPoint(1010, 400));
  EXPECT_NE(before, pictured(*sample.view, QStringLiteral("draw")));
  key(*sample.view, Qt::Key_6, {}, false, QStringLiteral("6"));
  pictured(*sample.view, QStringLiteral("draw-typing"));
  sample.view->setTool(nullptr);
  sample.view->measure();
  click(*sample.view, QPoint(340, 540));
  click(*sample.view, QPoint(640, 420));
  EXPECT_NE(before, pictured(*sample.view, QStringLiteral("measure")));
}

}  // namespace
}  // namespace yw::ui
