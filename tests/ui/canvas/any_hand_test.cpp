// Whatever a hand does, in any order, all of it can be undone to the same bytes and done again.
#include <gtest/gtest.h>

#include <random>

#include "core/file/yard_file.h"
#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/front_view.h"

namespace yw::ui {
namespace {

/// Clicks, drags, keys and tools by a fixed seed; gestures may be cut off by Escape or by another tool.
class Hand {
 public:
  Hand(CanvasView& view, unsigned seed) : view_(view), random_(seed) {}

  void act() {
    switch (upTo(14)) {
      case 0:
      case 1:
        return click(view_, anywhere(), modifiers());
      case 2:
      case 3:
      case 4:
        return drag(view_, onSomething(), anywhere(), modifiers());
      case 5:
        return brokenOff();
      case 6:
        return key(view_, keys_[upTo(std::size(keys_))], modifiers());
      case 7:
        return key(view_, keys_[upTo(std::size(keys_))]);
      case 8:
        return wheel(view_, anywhere(), upTo(2) ? 1 : -1);
      case 9:
        return takeTool();
      case 10:
        return click(view_, onSomething(), modifiers());
      case 11:
        return hover(view_, onSomething());
      case 12:
        return view_.fitAll();
      default:
        return undoOrRedo();
    }
  }

 private:
  std::size_t upTo(std::size_t n) { return random_() % n; }
  QPoint anywhere() {
    return {static_cast<int>(upTo(static_cast<std::size_t>(view_.viewport()->width()))),
            static_cast<int>(upTo(static_cast<std::size_t>(view_.viewport()->height())))};
  }
  QPoint onSomething() {
    const auto& items = view_.canvas().records();
    if (items.empty()) return anywhere();
    const auto item = std::next(items.begin(), static_cast<std::ptrdiff_t>(upTo(items.size())));
    const QPoint at = view_.toView(item->second->extent().center()).toPoint();
    return view_.viewport()->rect().contains(at) ? at : anywhere();
  }
  Qt::KeyboardModifiers modifiers() {
    constexpr Qt::KeyboardModifiers all[] = {{}, {}, Qt::ShiftModifier, Qt::ControlModifier, Qt::AltModifier};
    return all[upTo(std::size(all))];
  }
  void brokenOff() {
    const QPoint from = onSomething(), to = anywhere();
    QTest::mousePress(view_.viewport(), Qt::LeftButton, {}, from);
    QMouseEvent move(QEvent::MouseMove, QPointF(to), view_.viewport()->mapToGlobal(QPointF(to)), Qt::NoButton,
                     Qt::LeftButton, {});
    QApplication::sendEvent(view_.viewport(), &move);
    if (upTo(2))
      key(view_, Qt::Key_Escape);
    else
      undoOrRedo();
    QTest::mouseRelease(view_.viewport(), Qt::LeftButton, {}, to);
  }
  void takeTool() {
    auto* yard = dynamic_cast<YardView*>(&view_);
    switch (upTo(7)) {
      case 0:
        return view_.pullRun();
      case 1:
        return view_.addFeed();
      case 2:
        return view_.measure();
      case 3:
        return view_.repeatSelected(static_cast<RepeatKind>(upTo(5)));
      case 4:
        if (yard) yard->drawFeature(static_cast<yard::FeatureKind>(upTo(4)));
        return;
      case 5:
        if (yard) yard->placeProp(upTo(2) ? "ring" : "path_stakes");
        return;
      default:
        return view_.setTool(nullptr);
    }
  }
  void undoOrRedo() { upTo(2) ? view_.document().undo() : view_.document().redo(); }

  static constexpr int keys_[] = {
      Qt::Key_Left, Qt::Key_Right,  Qt::Key_Up,        Qt::Key_Escape,   Qt::Key_Delete, Qt::Key_R, Qt::Key_T,
      Qt::Key_S,    Qt::Key_Return, Qt::Key_Backspace, Qt::Key_PageDown, Qt::Key_D,      Qt::Key_C, Qt::Key_V,
      Qt::Key_X,    Qt::Key_A,      Qt::Key_F,         Qt::Key_Home,     Qt::Key_Plus,   Qt::Key_3};
  CanvasView& view_;
  std::mt19937 random_;  // its sequence is fixed by the standard
};

template <class View>
void actAndTakeBack(View& view, Document& document, unsigned seed) {
  view.resize(1000, 700);
  view.show();
  const std::string before = file::bytesOf(document.yard());
  Hand hand(view, seed);
  for (int i = 0; i < 150; ++i) hand.act();
  view.setTool(nullptr);
  key(view, Qt::Key_Escape);
  document.goTo(document.history().steps().size());
  const std::string after = file::bytesOf(document.yard());
  EXPECT_NE(after, before) << "seed " << seed << " did nothing";
  EXPECT_TRUE(file::checkSavable(document.yard())) << "seed " << seed;
  while (document.history().canUndo()) {
    EXPECT_FALSE(document.history().undoName().empty());
    document.undo();
  }
  EXPECT_EQ(file::bytesOf(document.yard()), before) << "seed " << seed;
  while (document.history().canRedo()) document.redo();
  EXPECT_EQ(file::bytesOf(document.yard()), after) << "seed " << seed;
}

TEST(AnyHand, OnTheYardCanBeUndoneAndDoneAgain) {
  for (unsigned seed = 1; seed <= 6; ++seed) {
    Document document;
    ASSERT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
    YardView view(document);
    actAndTakeBack(view, document, seed);
  }
}

TEST(AnyHand, OnTheHouseFrontCanBeUndoneAndDoneAgain) {
  for (unsigned seed = 1; seed <= 3; ++seed) {
    Document document;
    ASSERT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
    FrontView view(document);
    base::Id wall;
    for (const auto& [id, prop] : yard::all<yard::Prop>(document.yard()))
      if (prop->wall) wall = prop->wall;
    view.setWall(wall);
    actAndTakeBack(view, document, seed);
  }
}

}  // namespace
}  // namespace yw::ui
