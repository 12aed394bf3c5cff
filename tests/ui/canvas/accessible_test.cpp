// What assistive tools are told of the drawing.
#include <gtest/gtest.h>

#include <QAccessible>

#include "tests/ui/canvas/pictures.h"
#include "ui/canvas/front_view.h"

namespace yw::ui {
namespace {

TEST(Accessible, EveryPropAndBoxIsANamedThingWithItsPlace) {
  Bench bench;
  bench.addProp("ring", "Ring 10", 2, 0);
  const base::Id two = bench.addProp("ring", "Ring 2", -2, 0);
  yard::Box box;
  box.name = "K1";
  box.at = base::point(base::Vec2{0, -2});
  bench.add(box);
  bench.lookAtOrigin();
  bench.document.settle();
  QAccessibleInterface* view = QAccessible::queryAccessibleInterface(&bench.view);
  ASSERT_TRUE(view);
  EXPECT_EQ(view->text(QAccessible::Name), bench.view.accessibleName());
  ASSERT_EQ(view->childCount(), 3);
  EXPECT_EQ(view->child(0)->text(QAccessible::Name), QStringLiteral("Ring 2"));
  EXPECT_EQ(view->child(1)->text(QAccessible::Name), QStringLiteral("Ring 10"));
  EXPECT_EQ(view->child(2)->text(QAccessible::Name), QStringLiteral("K1"));
  EXPECT_TRUE(view->child(0)->text(QAccessible::Description).contains(QStringLiteral("not wired yet")));
  const QPoint onScreen = bench.view.viewport()->mapToGlobal(bench.at(-2, 0));
  EXPECT_TRUE(view->child(0)->rect().contains(onScreen));
  EXPECT_EQ(view->childAt(onScreen.x(), onScreen.y()), view->child(0));
  EXPECT_EQ(view->indexOfChild(view->child(1)), 1);
  EXPECT_EQ(view->child(2)->parent(), view);
  EXPECT_FALSE(view->child(0)->state().selected);
  bench.document.selection().set({two});
  EXPECT_TRUE(view->child(0)->state().selected);
  QAccessibleInterface* gone = view->child(0);
  key(bench.view, Qt::Key_Delete);
  EXPECT_FALSE(gone->isValid());
  EXPECT_EQ(view->childCount(), 2);
}

TEST(Accessible, TheHouseFrontIsNamedToo) {
  Bench<FrontView> bench;
  QAccessibleInterface* view = QAccessible::queryAccessibleInterface(&bench.view);
  ASSERT_TRUE(view);
  EXPECT_EQ(view->role(), QAccessible::Canvas);
  EXPECT_FALSE(view->text(QAccessible::Name).isEmpty());
  EXPECT_EQ(view->childCount(), 0);
}

}  // namespace
}  // namespace yw::ui
