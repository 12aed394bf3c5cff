// Everything undoes to the same saved bytes: thousands of random edits over every kind of record.
#include <gtest/gtest.h>

#include <set>

#include "core/edit/history.h"
#include "core/file/yard_file.h"
#include "tests/core/edit/random_edits.h"

namespace yw::file {
namespace {

using edit::History;
using edit::RandomEdits;

struct UndoBytes : ::testing::TestWithParam<std::uint64_t> {};

TEST_P(UndoBytes, EveryPrefixComesBack) {
  constexpr std::size_t kSteps = 700;
  RandomEdits random(GetParam());
  History history(yard::emptyYard());
  std::vector<std::string> bytes{bytesOf(history.yard())};
  std::set<std::size_t> kinds;
  while (bytes.size() <= kSteps) {
    history.commit(random.next(history.yard()));
    if (history.steps().size() < bytes.size()) continue;  // the edit came to nothing
    bytes.push_back(bytesOf(history.yard()));
    for (const auto& r : history.steps().back().replacements)
      kinds.insert((r.after ? r.after : r.before)->index());
  }
  EXPECT_EQ(kinds.size(), static_cast<std::size_t>(yard::kRecordKinds));
  for (std::size_t i = kSteps; i-- > 0;) {
    history.undo();
    ASSERT_EQ(bytesOf(history.yard()), bytes[i]) << "undone to " << i;
  }
  EXPECT_TRUE(history.yard() == yard::emptyYard());
  for (std::size_t i = 1; i <= kSteps; ++i) {
    history.redo();
    ASSERT_EQ(bytesOf(history.yard()), bytes[i]) << "redone to " << i;
  }
  for (int jumps = 0; jumps < 100; ++jumps) {
    const auto to = static_cast<std::size_t>(random.below(kSteps + 1));
    history.goTo(to);
    ASSERT_EQ(bytesOf(history.yard()), bytes[to]) << "went to " << to;
  }
}

TEST_P(UndoBytes, GesturesOfManyChangesComeBack) {
  RandomEdits random(GetParam() + 100);
  History history(yard::emptyYard());
  std::vector<std::string> bytes{bytesOf(history.yard())};
  for (int i = 0; i < 300; ++i) {
    const std::string key = random.below(3) == 0 ? "" : "gesture " + std::to_string(random.below(2));
    history.commit(random.next(history.yard()), key);
    bytes.resize(history.position() + 1);
    bytes.back() = bytesOf(history.yard());
  }
  EXPECT_LT(history.steps().size(), 300u);
  while (history.canUndo()) {
    history.undo();
    ASSERT_EQ(bytesOf(history.yard()), bytes[history.position()]);
  }
  while (history.canRedo()) {
    history.redo();
    ASSERT_EQ(bytesOf(history.yard()), bytes[history.position()]);
  }
}

TEST_P(UndoBytes, EveryYardOnTheWayCanBeSavedAndOpened) {
  RandomEdits random(GetParam() + 200);
  History history(yard::emptyYard());
  for (int i = 0; i < 300; ++i) {
    history.commit(random.next(history.yard()));
    if (i % 10 != 0) continue;
    const std::string bytes = bytesOf(history.yard());
    const auto opened = parse(bytes);
    ASSERT_TRUE(opened) << base::text(opened.error());
    EXPECT_FALSE(opened->normalised);
    EXPECT_TRUE(opened->yard == history.yard());
  }
}

INSTANTIATE_TEST_SUITE_P(Seeds, UndoBytes, ::testing::Values(1, 2, 3, 4, 5));

}  // namespace
}  // namespace yw::file
