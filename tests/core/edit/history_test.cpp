#include "core/edit/history.h"

#include <gtest/gtest.h>

#include "core/base/hash.h"

namespace yw::edit {
namespace {

using yard::Prop;

Change added(const Yard& yard, const std::string& name) {
  Editor edit(yard);
  edit.add(Prop{.name = name});
  return edit.finish("Add " + name);
}
Change moved(const Yard& yard, Id id, std::int64_t by) {
  Editor edit(yard);
  edit.update<Prop>(id, [by](Prop& p) { p.at.x.count += by; });
  return edit.finish("Move");
}

struct Histories : ::testing::Test {
  History history{yard::emptyYard()};
  Id prop{history.yard().nextId};
  void SetUp() override { history.commit(added(history.yard(), "arch")); }
  std::int64_t x() const { return yard::find<Prop>(history.yard(), prop)->at.x.count; }
};

TEST_F(Histories, UndoAndRedoNameTheirStep) {
  EXPECT_EQ(history.undoName(), "Add arch");
  EXPECT_EQ(history.redoName(), "");
  history.undo();
  EXPECT_FALSE(history.canUndo());
  EXPECT_EQ(history.undoName(), "");
  EXPECT_EQ(history.redoName(), "Add arch");
  EXPECT_TRUE(history.yard() == yard::emptyYard());
  history.undo();  // nothing there: nothing happens
  history.redo();
  EXPECT_EQ(yard::find<Prop>(history.yard(), prop)->name, "arch");
  history.redo();
  EXPECT_EQ(history.position(), 1u);
}

TEST_F(Histories, ANewStepDropsWhatCouldBeRedone) {
  history.undo();
  history.commit(added(history.yard(), "ring"));
  EXPECT_FALSE(history.canRedo());
  EXPECT_EQ(history.steps().size(), 1u);
  EXPECT_EQ(history.undoName(), "Add ring");
}

TEST_F(Histories, AnEmptyChangeDoesNothing) {
  const auto revision = history.revision();
  history.undo();
  history.commit(Editor(history.yard()).finish("Nothing"));
  EXPECT_TRUE(history.canRedo());
  EXPECT_EQ(history.revision(), revision + 1);
}

TEST_F(Histories, StepsOfOneGestureAreOneStep) {
  for (int i = 0; i < 5; ++i) history.commit(moved(history.yard(), prop, 10), "move");
  EXPECT_EQ(history.steps().size(), 2u);
  EXPECT_EQ(x(), 50);
  history.undo();
  EXPECT_EQ(x(), 0);
  history.redo();
  EXPECT_EQ(x(), 50);
  history.commit(moved(history.yard(), prop, 10), "move");  // an undo between: a new gesture
  EXPECT_EQ(history.steps().size(), 3u);
  history.commit(moved(history.yard(), prop, 10), "other");
  history.commit(moved(history.yard(), prop, 10));
  history.commit(moved(history.yard(), prop, 10));
  EXPECT_EQ(history.steps().size(), 6u);
}

TEST_F(Histories, AGestureThatEndsWhereItBeganIsNoStep) {
  history.commit(moved(history.yard(), prop, 10), "move");
  history.commit(moved(history.yard(), prop, -10), "move");
  EXPECT_EQ(history.steps().size(), 1u);
  EXPECT_EQ(history.position(), 1u);
  history.undo();
  EXPECT_TRUE(history.yard() == yard::emptyYard());
}

TEST_F(Histories, AddedAndTakenBackInOneGestureGivesTheCounterBack) {
  const auto next = history.yard().nextId;
  history.commit(added(history.yard(), "ring"), "place");
  Editor edit(history.yard());
  edit.remove(Id{next});
  history.commit(edit.finish("Remove"), "place");
  EXPECT_EQ(history.yard().nextId, next);
  history.undo();
  EXPECT_TRUE(history.yard() == yard::emptyYard());
}

TEST_F(Histories, KnowsWhetherItIsSaved) {
  EXPECT_FALSE(history.isSaved());
  history.markSaved();
  EXPECT_TRUE(history.isSaved());
  history.commit(moved(history.yard(), prop, 10), "move");
  EXPECT_FALSE(history.isSaved());
  history.undo();
  EXPECT_TRUE(history.isSaved());
  history.undo();
  history.commit(added(history.yard(), "ring"));  // what was saved can no longer be reached
  EXPECT_FALSE(history.isSaved());
  history.undo();
  EXPECT_FALSE(history.isSaved());
}

TEST_F(Histories, ASaveEndsTheGesture) {
  history.commit(moved(history.yard(), prop, 10), "move");
  history.markSaved();
  history.commit(moved(history.yard(), prop, 10), "move");
  EXPECT_EQ(history.steps().size(), 3u);
  history.undo();
  EXPECT_TRUE(history.isSaved());
  EXPECT_EQ(x(), 10);
}

TEST_F(Histories, GoesToAnyStepInOneChange) {
  for (int i = 0; i < 6; ++i) history.commit(moved(history.yard(), prop, 1));
  int heard = 0;
  history.listen([&heard](const Change&) { ++heard; });
  history.goTo(2);
  EXPECT_EQ(x(), 1);
  history.goTo(99);
  EXPECT_EQ(x(), 6);
  EXPECT_EQ(history.position(), 7u);
  history.goTo(0);
  EXPECT_TRUE(history.yard() == yard::emptyYard());
  EXPECT_EQ(heard, 3);
  history.goTo(0);
  EXPECT_EQ(heard, 3);
}

TEST_F(Histories, ListenersHearEachChangeAsItWasMade) {
  Yard shadow = history.yard();
  std::int64_t revision = history.revision();
  history.listen([&](const Change& change) {
    shadow = apply(shadow, change);
    EXPECT_TRUE(shadow == history.yard()) << change.name;
    EXPECT_EQ(history.revision(), ++revision);
  });
  history.commit(moved(history.yard(), prop, 10), "move");
  history.commit(moved(history.yard(), prop, 10), "move");
  history.commit(moved(history.yard(), prop, -20), "move");
  history.undo();
  history.redo();
  history.goTo(0);
  EXPECT_EQ(revision, 7);
}

TEST_F(Histories, PicturesStandOutsideTheSteps) {
  const std::string key = history.addBlob("picture");
  EXPECT_EQ(key, base::sha256("picture"));
  EXPECT_EQ(history.addBlob("picture"), key);
  EXPECT_EQ(*history.yard().blobs.at(key), "picture");
  Editor edit(history.yard());
  edit.update<yard::Site>(yard::siteId(history.yard()), [&key](yard::Site& s) { s.photo = key; });
  history.commit(edit.finish("Set photo"));
  history.undo();
  history.undo();
  EXPECT_TRUE(history.yard() == yard::emptyYard());
  history.goTo(2);
  EXPECT_TRUE(history.yard().blobs.contains(yard::site(history.yard()).photo));
}

}  // namespace
}  // namespace yw::edit
