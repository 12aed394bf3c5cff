// From an empty yard to sheets in the hand, by clicks and keys alone, each counted.
#include <gtest/gtest.h>

#include <QAction>
#include <QApplication>
#include <QFileDialog>
#include <QFileInfo>
#include <QLineEdit>
#include <QPushButton>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>
#include <functional>

#include "tests/ui/canvas/pictures.h"
#include "ui/dialogs/plan_dialog.h"
#include "ui/dialogs/print_dialog.h"
#include "ui/panels/next_step.h"
#include "ui/panels/place_list.h"
#include "ui/window/main_window.h"

namespace yw::ui {
namespace {

constexpr int kPatience = 120'000;  // ms

/// A person at the window. Each method is one click or one typed answer with Enter.
class Hands {
 public:
  explicit Hands(MainWindow& window) : window_(window) {}
  int actions() const { return actions_; }

  void press(const char* button) { press(window_, button); }
  void press(QWidget& in, const char* button) {
    ++actions_;
    auto* found = in.findChild<QAbstractButton*>(QLatin1String(button));
    ASSERT_NE(found, nullptr) << button;
    ASSERT_TRUE(found->isVisible()) << button;
    ASSERT_TRUE(found->isEnabled()) << button;
    QTest::mouseClick(found, Qt::LeftButton);
  }
  void point(double x, double y) { hover(view(), at(x, y)); }
  void clickAt(double x, double y, Qt::KeyboardModifiers modifiers = {}) {
    ++actions_;
    click(view(), at(x, y), modifiers);
  }
  void type(const QString& text) {
    ++actions_;
    key(view(), Qt::Key_0, {}, false, text.left(1));
    auto* edit = view().viewport()->findChild<QLineEdit*>(QStringLiteral("inlineLength"));
    ASSERT_NE(edit, nullptr);
    QTest::keyClicks(edit, text.mid(1));
    QTest::keyClick(edit, Qt::Key_Return);
  }
  void escape() {
    ++actions_;
    key(view(), Qt::Key_Escape);
  }
  void pick(const char* kind) {
    press("placeProps");
    ++actions_;
    auto* list = window_.findChild<PlaceList*>();
    ASSERT_NE(list, nullptr);
    for (int i = 0; i < list->count(); ++i)
      if (list->item(i)->data(Qt::UserRole).toString() == QLatin1String(kind)) {
        list->scrollToItem(list->item(i));
        QTest::mouseClick(list->viewport(), Qt::LeftButton, {}, list->visualItemRect(list->item(i)).center());
        return;
      }
    FAIL() << kind;
  }
  /// What is done in the window that the next action opens, before it returns.
  template <class Dialog>
  void inNext(std::function<void(Dialog&)> act) {
    QTimer::singleShot(50, [this, act] {
      auto* dialog = qobject_cast<Dialog*>(QApplication::activeModalWidget());
      dialog ? act(*dialog) : inNext<Dialog>(act);
    });
  }
  /// Types a file name into the file dialog that comes next.
  void nameFile(const QString& path) {
    inNext<QFileDialog>([this, path](QFileDialog& dialog) {
      ++actions_;
      auto* edit = dialog.findChild<QLineEdit*>(QStringLiteral("fileNameEdit"));
      ASSERT_NE(edit, nullptr);
      edit->setText(path);
      QTest::keyClick(edit, Qt::Key_Return);
    });
  }
  CanvasView& view() { return *window_.findChild<YardView*>(); }

 private:
  QPoint at(double x, double y) { return view().toView(toScene(base::Vec2{x, y})).toPoint(); }
  MainWindow& window_;
  int actions_ = 0;
};

NextStep::Step due(MainWindow& window) {
  window.document().settle();
  return window.findChild<NextStep*>()->step();
}

TEST(FirstYard, TenPropsFromNothingToSheetsInSixtyActions) {
  QTemporaryDir folder;
  MainWindow window;
  window.resize(1400, 900);
  window.show();
  Hands hands(window);
  hands.press("emptyHouse");
  hands.view().fit(QRectF(-12000, -9000, 24000, 18000), 0.0);
  hands.clickAt(-6, 0.5);
  hands.point(5, 6);
  hands.type(QStringLiteral("40' x 24'"));
  EXPECT_EQ(due(window), NextStep::Step::PlaceProps);
  hands.pick("arch");
  for (const double x : {-5.0, -2.0, 1.0, 4.0}) hands.clickAt(x, -6.5, Qt::ShiftModifier);
  hands.escape();
  hands.pick("cone_tree");
  hands.clickAt(0, -3);
  hands.pick("small_cone_tree");
  for (const double x : {-5.0, 5.0}) hands.clickAt(x, -4, Qt::ShiftModifier);
  hands.escape();
  hands.pick("ring");
  hands.clickAt(-8, -2.5);
  hands.pick("star");
  hands.clickAt(8, -2.5);
  hands.pick("snowflake");
  hands.clickAt(8, -5.5);
  EXPECT_EQ(due(window), NextStep::Step::PlaceOutlet);
  hands.press("nextStepButton");
  hands.clickAt(-3, 0.45);
  ASSERT_EQ(yard::all<yard::Prop>(window.document().yard()).size(), 10U);
  EXPECT_EQ(due(window), NextStep::Step::Propose);
  hands.inNext<PlanDialog>([&](PlanDialog& dialog) {
    hands.press(dialog, "planWorkOut");
    EXPECT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
    hands.press(dialog, "planTake");
  });
  hands.press("nextStepButton");
  EXPECT_EQ(due(window), NextStep::Step::Save);
  EXPECT_TRUE(window.document().report()->notWired.empty());
  EXPECT_FALSE(window.document().report()->failing);
  hands.nameFile(folder.filePath(QStringLiteral("first.yard")));
  hands.press("nextStepButton");
  EXPECT_EQ(due(window), NextStep::Step::Print);
  const QString sheets = folder.filePath(QStringLiteral("first.pdf"));
  hands.inNext<PrintDialog>([&](PrintDialog& dialog) {
    hands.nameFile(sheets);
    hands.press(dialog, "toPdf");
    dialog.reject();
  });
  hands.press("nextStepButton");
  EXPECT_GT(QFileInfo(sheets).size(), 10'000);
  EXPECT_EQ(due(window), NextStep::Step::None);
  EXPECT_LE(hands.actions(), 60);
  RecordProperty("actions", hands.actions());
  EXPECT_TRUE(window.document().save(folder.filePath(QStringLiteral("first.yard"))));
}

}  // namespace
}  // namespace yw::ui
