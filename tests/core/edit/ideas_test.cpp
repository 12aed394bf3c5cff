// Ideas: named variants of the yard. Edits stay in them, the yard below goes its own way, nothing is lost.
#include "core/edit/ideas.h"

#include <gtest/gtest.h>

#include "core/edit/history.h"
#include "core/edit/journal_text.h"
#include "core/yard/codec.h"

namespace yw::edit {
namespace {

using yard::Idea;
using yard::Prop;

struct Ideas {
  History history{yard::emptyYard()};
  Id arch, ring;

  Ideas() {
    Editor e(history.yard());
    arch = e.add(Prop{.name = "Arch 1", .kind = "arch", .sizes = {{"radius", 5}, {"rows", 2}}});
    ring = e.add(Prop{.name = "Ring 1", .kind = "ring"});
    history.commit(e.finish("Place two props"));
  }
  const Yard& yard() const { return history.yard(); }
  const Prop& prop(Id id) const { return *yard::find<Prop>(yard(), id); }
  bool has(Id id) const { return yard().records.contains(id); }
  template <class F>
  void change(Id id, F f) {
    Editor e(yard());
    e.update<Prop>(id, f);
    history.commit(e.finish("Change a prop"));
  }
  void rename(Id id, const char* name) {
    change(id, [name](Prop& p) { p.name = name; });
  }
  /// Commits it; the text of the refusal if it is one.
  std::string commit(base::Result<Change> change) {
    if (!change) return base::text(change.error());
    history.commit(*std::move(change));
    return {};
  }
  Id make(const char* name) {
    EXPECT_EQ(commit(makeIdea(yard(), name)), "");
    return ideaNamed(yard(), name);
  }
  std::string show(Id idea, OnClash onClash = OnClash::Refuse) {
    return commit(showIdea(yard(), idea, onClash));
  }
  std::string bytes() const {
    std::string out;
    for (const auto& [id, record] : yard().records) out += yard::encode(id, *record) + "\n";
    return out + std::to_string(yard().nextId);
  }
};

TEST(Ideas, AnEditMadeInAnIdeaStaysInIt) {
  Ideas y;
  const Id idea = y.make("One ring less");
  EXPECT_EQ(shownIdea(y.yard()), idea);
  y.rename(y.arch, "Big arch");
  Editor e(y.yard());
  e.remove(y.ring);
  const Id star = e.add(Prop{.name = "Star 1", .kind = "star"});
  y.history.commit(e.finish("A star for the ring"));
  EXPECT_EQ(y.show({}), "");
  EXPECT_FALSE(shownIdea(y.yard()));
  EXPECT_EQ(y.prop(y.arch).name, "Arch 1");
  EXPECT_TRUE(y.has(y.ring));
  EXPECT_FALSE(y.has(star));
  EXPECT_EQ(y.show(idea), "");
  EXPECT_EQ(y.prop(y.arch).name, "Big arch");
  EXPECT_FALSE(y.has(y.ring));
  EXPECT_EQ(y.prop(star).name, "Star 1");
}

TEST(Ideas, ThereAndBackGivesTheSameBytes) {
  Ideas y;
  const Id idea = y.make("Other");
  y.rename(y.arch, "Big arch");
  const std::string inIdea = y.bytes();
  EXPECT_EQ(y.show({}), "");
  const std::string inYard = y.bytes();
  EXPECT_EQ(y.show(idea), "");
  EXPECT_EQ(y.bytes(), inIdea);
  EXPECT_EQ(y.show({}), "");
  EXPECT_EQ(y.bytes(), inYard);
}

TEST(Ideas, EachIsOneStepAndUndoesToTheSameBytes) {
  Ideas y;
  std::vector<std::string> bytes{y.bytes()};
  const auto step = [&](const std::string& refused, const char* name) {
    EXPECT_EQ(refused, "") << name;
    EXPECT_EQ(y.history.undoName(), name);
    bytes.push_back(y.bytes());
    EXPECT_EQ(y.history.position(), bytes.size());  // the first step placed the props
  };
  step(y.commit(makeIdea(y.yard(), "A")), "Make the idea A");
  const Id a = ideaNamed(y.yard(), "A");
  y.rename(y.arch, "In A");
  bytes.push_back(y.bytes());
  step(y.show({}), "Show the yard itself");
  step(y.commit(renameIdea(y.yard(), a, " A, better ")), "Rename the idea to A, better");
  step(y.show(a), "Show the idea A, better");
  step(y.commit(makeIdea(y.yard(), "B")), "Make the idea B");
  EXPECT_EQ(y.prop(y.arch).name, "In A");  // begins as what was shown
  step(y.commit(dropIdea(y.yard(), shownIdea(y.yard()))), "Drop the idea B");
  EXPECT_EQ(y.prop(y.arch).name, "Arch 1");  // a dropped idea leaves the yard itself
  step(y.commit(adoptIdea(y.yard(), a)), "Make A, better the yard");
  EXPECT_EQ(y.prop(y.arch).name, "In A");
  EXPECT_TRUE(yard::all<Idea>(y.yard()).empty());
  for (std::size_t i = bytes.size() - 1; i-- > 0;) {
    y.history.undo();
    EXPECT_EQ(y.bytes(), bytes[i]) << "undone to " << i;
  }
  for (std::size_t i = 1; i < bytes.size(); ++i) {
    y.history.redo();
    EXPECT_EQ(y.bytes(), bytes[i]) << "redone to " << i;
  }
}

TEST(Ideas, WhatChangesInTheYardBelowIsMergedFieldByField) {
  Ideas y;
  const Id idea = y.make("Higher");
  y.change(y.arch, [](Prop& p) {
    p.sizes["rows"] = 3;
    p.notes = "from the idea";
  });
  EXPECT_EQ(y.show({}), "");
  y.change(y.arch, [](Prop& p) {
    p.name = "Front arch";
    p.sizes["radius"] = 7;
  });
  y.rename(y.ring, "Front ring");
  Editor e(y.yard());
  const Id star = e.add(Prop{.name = "Star 1", .kind = "star"});
  y.history.commit(e.finish("Place a star"));
  const std::string below = y.bytes();
  EXPECT_EQ(y.show(idea), "");
  EXPECT_EQ(y.prop(y.arch).name, "Front arch");
  EXPECT_EQ(y.prop(y.arch).notes, "from the idea");
  EXPECT_EQ(y.prop(y.arch).sizes.at("rows"), 3);
  EXPECT_EQ(y.prop(y.arch).sizes.at("radius"), 7);
  EXPECT_EQ(y.prop(y.ring).name, "Front ring");
  EXPECT_TRUE(y.has(star));
  EXPECT_EQ(y.show({}), "");
  EXPECT_EQ(y.prop(y.arch).notes, "");
  EXPECT_EQ(y.prop(y.arch).sizes.at("rows"), 2);
  EXPECT_EQ(y.prop(y.arch).name, "Front arch");
}

TEST(Ideas, AClashIsRefusedWithItsPlaceOrGoesAsAsked) {
  Ideas y;
  const Id idea = y.make("Other names");
  y.rename(y.arch, "In the idea");
  EXPECT_EQ(y.show({}), "");
  y.rename(y.arch, "In the yard");
  const std::string before = y.bytes();
  const std::string refusal = y.show(idea);
  for (const char* said : {"Other names", "Name", "In the yard"})
    EXPECT_NE(refusal.find(said), std::string::npos) << refusal;
  EXPECT_EQ(y.bytes(), before);
  EXPECT_EQ(y.show(idea, OnClash::KeepYards), "");
  EXPECT_EQ(y.prop(y.arch).name, "In the yard");
  y.history.undo();
  EXPECT_EQ(y.bytes(), before);
  EXPECT_EQ(y.show(idea, OnClash::KeepIdeas), "");
  EXPECT_EQ(y.prop(y.arch).name, "In the idea");
  EXPECT_EQ(y.show({}), "");
  EXPECT_EQ(y.prop(y.arch).name, "In the yard");  // the yard keeps its own
  EXPECT_EQ(y.show(idea), "");                    // settled: no clash any more
  EXPECT_EQ(y.prop(y.arch).name, "In the idea");
}

TEST(Ideas, WhatOneTookOutAndTheOtherChangedIsNeverLostInSilence) {
  Ideas y;
  const Id idea = y.make("Without the ring");
  Editor e(y.yard());
  e.remove(y.ring);
  y.history.commit(e.finish("Remove the ring"));
  EXPECT_EQ(y.show({}), "");
  y.rename(y.ring, "My best ring");
  const std::string refusal = y.show(idea);
  EXPECT_NE(refusal.find("My best ring"), std::string::npos) << refusal;
  EXPECT_NE(refusal.find("took it out"), std::string::npos) << refusal;
  EXPECT_EQ(y.show(idea, OnClash::KeepYards), "");
  EXPECT_TRUE(y.has(y.ring));
}

TEST(Ideas, SeveralOverOneYardDoNotTouchEachOther) {
  Ideas y;
  const Id a = y.make("A");
  y.rename(y.arch, "Arch of A");
  EXPECT_EQ(y.show({}), "");
  const Id b = y.make("B");
  y.rename(y.ring, "Ring of B");
  EXPECT_EQ(y.show(a), "");
  EXPECT_EQ(y.prop(y.arch).name, "Arch of A");
  EXPECT_EQ(y.prop(y.ring).name, "Ring 1");
  EXPECT_EQ(y.show(b), "");
  EXPECT_EQ(y.prop(y.arch).name, "Arch 1");
  EXPECT_EQ(y.prop(y.ring).name, "Ring of B");
  EXPECT_EQ(y.commit(adoptIdea(y.yard(), b)), "");
  EXPECT_EQ(y.show(a), "");  // A now stands over the yard that B has become
  EXPECT_EQ(y.prop(y.arch).name, "Arch of A");
  EXPECT_EQ(y.prop(y.ring).name, "Ring of B");
}

TEST(Ideas, NamesAreGivenOnce) {
  Ideas y;
  y.make("A");
  EXPECT_NE(y.commit(makeIdea(y.yard(), "A")).find("already"), std::string::npos);
  EXPECT_NE(y.commit(makeIdea(y.yard(), "  ")).find("needs a name"), std::string::npos);
  const Id b = y.make("B");
  EXPECT_NE(y.commit(renameIdea(y.yard(), b, "A")).find("already"), std::string::npos);
  EXPECT_EQ(y.commit(renameIdea(y.yard(), b, "B")), "");
  EXPECT_NE(y.show(Id{999'999}).find("not in this yard"), std::string::npos);
}

TEST(Ideas, AskedAgainAChangeRemembersTheSame) {
  Ideas y;
  y.make("A");
  Editor e(y.yard());
  e.update<Prop>(y.arch, [](Prop& p) { p.name = "X"; });
  const Change once = e.finish("Rename");
  ASSERT_EQ(once.replacements.size(), 2u);
  const Change twice = keptInIdea(y.yard(), once);
  ASSERT_EQ(twice.replacements.size(), 2u);
  for (std::size_t i = 0; i < 2; ++i) EXPECT_EQ(*twice.replacements[i].after, *once.replacements[i].after);
  // What ends as it was in the yard is no part of the idea.
  y.history.commit(once);
  y.rename(y.arch, "Arch 1");
  EXPECT_TRUE(yard::find<Idea>(y.yard(), shownIdea(y.yard()))->changes.empty());
}

// Kill -9: the journal's lines alone bring yard and ideas back.
TEST(Ideas, ComeBackFromTheJournal) {
  Ideas y;
  std::string lines = startLines("", y.yard());
  y.history.listen([&lines](const Change& change) { lines += changeLine(change); });
  const Id idea = y.make("Kept");
  y.rename(y.arch, "Big arch");
  EXPECT_EQ(y.show({}), "");
  y.rename(y.ring, "Front ring");
  EXPECT_EQ(y.show(idea), "");
  y.rename(y.ring, "Ring of the idea");
  y.history.undo();
  JournalContent content;
  ASSERT_TRUE(readJournal(lines, content));
  EXPECT_TRUE(content.yard == y.yard());
  History back(content.yard);
  back.commit(showIdea(back.yard(), {}).value());
  EXPECT_EQ(yard::find<Prop>(back.yard(), y.arch)->name, "Arch 1");
  EXPECT_EQ(yard::find<Prop>(back.yard(), y.ring)->name, "Front ring");
}

}  // namespace
}  // namespace yw::edit
