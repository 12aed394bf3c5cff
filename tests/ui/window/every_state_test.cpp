// The window in the states a person brings it into, in both looks: nothing cut, everything named.
// With YARDWRIGHT_PICTURES set to a folder each is saved there, to be looked at; QT_SCALE_FACTOR sets the
// scale.
#include <gtest/gtest.h>

#include <QAction>
#include <QTabWidget>
#include <functional>
#include <memory>

#include "tests/ui/canvas/pictures.h"
#include "tests/ui/whole_and_named.h"
#include "ui/canvas/tools/draw_tool.h"
#include "ui/canvas/tools/measure_tool.h"
#include "ui/canvas/tools/run_tool.h"
#include "ui/window/main_window.h"

namespace yw::ui {
namespace {

struct State {
  const char* name;
  std::function<void(MainWindow&)> reach;
};

template <class R>
base::Id firstOf(MainWindow& window) {
  return yard::all<R>(window.document().yard()).front().first;
}
void act(MainWindow& window, const char* action) {
  auto* found = window.findChild<QAction*>(QLatin1String(action));
  ASSERT_NE(found, nullptr) << action;
  found->trigger();
}
void choose(MainWindow& window, base::Id id) { window.document().selection().set({id}); }

const std::vector<State> kStates{
    {"whole", [](MainWindow&) {}},
    {"prop", [](MainWindow& w) { choose(w, firstOf<yard::Prop>(w)); }},
    {"run", [](MainWindow& w) { choose(w, firstOf<yard::Run>(w)); }},
    {"controller", [](MainWindow& w) { choose(w, firstOf<yard::Controller>(w)); }},
    {"supply", [](MainWindow& w) { choose(w, firstOf<yard::Supply>(w)); }},
    {"box", [](MainWindow& w) { choose(w, firstOf<yard::Box>(w)); }},
    {"wall", [](MainWindow& w) { choose(w, firstOf<yard::Wall>(w)); }},
    {"several",
     [](MainWindow& w) {
       std::set<base::Id> all;
       for (const auto& [id, prop] : yard::all<yard::Prop>(w.document().yard())) all.insert(id);
       w.document().selection().set(all);
     }},
    {"tables", [](MainWindow& w) { act(w, "actionTables"); }},
    {"front", [](MainWindow& w) { w.findChild<QTabWidget*>()->setCurrentIndex(1); }},
    {"drawing",
     [](MainWindow& w) {
       w.yardView().setTool(std::make_unique<DrawTool>(w.yardView(), yard::FeatureKind::Walk));
       click(w.yardView(), QPoint(100, 100));
       hover(w.yardView(), QPoint(220, 160));
     }},
    {"measuring",
     [](MainWindow& w) {
       w.yardView().setTool(std::make_unique<MeasureTool>(w.yardView()));
       click(w.yardView(), QPoint(100, 100));
       hover(w.yardView(), QPoint(220, 160));
     }},
    {"pulling", [](MainWindow& w) {
       w.yardView().startRun(firstOf<yard::Port>(w));
       hover(w.yardView(), QPoint(220, 160));
     }}};

TEST(EveryState, NothingIsCutAndAllIsNamed) {
  lookAsTheProgram();
  const QString folder = qEnvironmentVariable("YARDWRIGHT_PICTURES");
  for (const bool dusk : {false, true}) {
    for (const State& state : kStates) {
      SCOPED_TRACE(state.name);
      MainWindow window;
      window.resize(1100, 700);
      window.show();
      ASSERT_TRUE(window.openFile(samplePath("porch-and-lawn.yard")));
      if (dusk) act(window, "actionDusk");
      window.document().settle();
      state.reach(window);
      QTest::qWait(120);
      expectNothingCut(window);
      expectNamedAndForAHand(window);
      if (!folder.isEmpty())
        window.grab().save(QDir(folder).filePath(
            QStringLiteral("window_%1_%2.png")
                .arg(QLatin1String(state.name), dusk ? QStringLiteral("dusk") : QStringLiteral("light"))));
      if (dusk) act(window, "actionDusk");
    }
  }
}

}  // namespace
}  // namespace yw::ui
