#include "core/edit/journal.h"

#include <gtest/gtest.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <sstream>

#include "core/base/hash.h"
#include "core/edit/history.h"
#include "tests/core/edit/random_edits.h"

namespace yw::edit {
namespace {

namespace fs = std::filesystem;
using yard::Prop;

std::string read(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}
void write(const fs::path& path, const std::string& bytes) { std::ofstream(path, std::ios::binary) << bytes; }

Change added(const Yard& yard, const std::string& name) {
  Editor edit(yard);
  edit.add(Prop{.name = name});
  return edit.finish("Add " + name);
}

struct Journals : ::testing::Test {
  fs::path folder;
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "journal ü XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder = pattern;
  }
  void TearDown() override { fs::remove_all(folder); }

  /// A journal whose program is gone: what it holds, the lock let go.
  fs::path abandoned(const std::vector<std::string>& props, const fs::path& yardFile = {}) {
    Yard yard = yard::emptyYard();
    Journal journal = Journal::start(folder, yardFile, yard).value();
    for (const std::string& prop : props) {
      const Change change = added(yard, prop);
      EXPECT_TRUE(journal.append(change));
      yard = apply(yard, change);
    }
    return journal.file();
  }
  std::string refusal(const fs::path& file) {
    const auto yard = recover(file);
    return yard ? "recovered" : base::text(yard.error());
  }
};

TEST_F(Journals, ComesBackWithEveryChange) {
  Yard yard = yard::emptyYard();
  fs::path file;
  {
    Journal journal = Journal::start(folder, "", yard).value();
    file = journal.file();
    for (int i = 0; i < 20; ++i) {
      const Change change = added(yard, "prop " + std::to_string(i));
      ASSERT_TRUE(journal.append(change));
      yard = apply(yard, change);
      EXPECT_TRUE(recover(file).value() == yard);
    }
  }
  const auto left = leftJournals(folder);
  ASSERT_EQ(left.size(), 1u);
  EXPECT_EQ(left[0].file, file);
  EXPECT_EQ(left[0].yardFile, "");
  EXPECT_EQ(left[0].changes, 20);
  EXPECT_EQ(left[0].lastChange, "Add prop 19");
  EXPECT_EQ(left[0].savedAt.size(), std::string("2026-11-25T18:00:00").size());
}

TEST_F(Journals, HoldsUndoAndRedoAsChanges) {
  RandomEdits random(7);
  History history(yard::emptyYard());
  Journal journal = Journal::start(folder, "/yards/ours.yard", history.yard()).value();
  history.listen([&journal](const Change& change) { ASSERT_TRUE(journal.append(change)); });
  for (int i = 0; i < 300; ++i) {
    const std::int64_t dice = random.below(10);
    if (dice < 6)
      history.commit(random.next(history.yard()), random.below(3) == 0 ? "drag" : "");
    else if (dice < 8)
      history.undo();
    else if (dice < 9)
      history.redo();
    else
      history.goTo(
          static_cast<std::size_t>(random.below(static_cast<std::int64_t>(history.steps().size()) + 1)));
    if (i % 20 == 0) {
      EXPECT_TRUE(recover(journal.file()).value() == history.yard()) << i;
    }
  }
  EXPECT_TRUE(recover(journal.file()).value() == history.yard());
}

TEST_F(Journals, KeepsPictures) {
  History history(yard::emptyYard());
  Journal journal = Journal::start(folder, "", history.yard()).value();
  std::string picture;
  for (int i = 0; i < 5000; ++i) picture += static_cast<char>(i * 7);
  const std::string key = history.addBlob(picture);
  ASSERT_TRUE(journal.appendBlob(key, picture));
  EXPECT_EQ(*recover(journal.file())->blobs.at(key), picture);
  ASSERT_TRUE(journal.reset("", history.yard()));  // and from the start lines too
  EXPECT_EQ(*recover(journal.file())->blobs.at(key), picture);
}

TEST_F(Journals, OfALivingProgramIsNotOffered) {
  Yard yard = yard::emptyYard();
  {
    Journal journal = Journal::start(folder, "", yard).value();
    ASSERT_TRUE(journal.append(added(yard, "arch")));
    EXPECT_TRUE(leftJournals(folder).empty());
    Journal other = std::move(journal);
    EXPECT_TRUE(leftJournals(folder).empty());
  }
  EXPECT_EQ(leftJournals(folder).size(), 1u);
}

TEST_F(Journals, WithoutChangesAreNotOfferedAndAreSweptAway) {
  const fs::path empty = abandoned({});
  EXPECT_TRUE(leftJournals(folder).empty());
  EXPECT_TRUE(fs::exists(empty));
  Journal next = Journal::start(folder, "", yard::emptyYard()).value();
  EXPECT_EQ(std::distance(fs::directory_iterator(folder), {}), 1);
}

TEST_F(Journals, SeveralAreOfferedEachWithItsYard) {
  abandoned({"a"}, "/yards/one.yard");
  abandoned({"a", "b"}, "/yards/zwei ü.yard");
  abandoned({"a", "b", "c"});
  const auto left = leftJournals(folder);
  ASSERT_EQ(left.size(), 3u);
  EXPECT_EQ(left[0].yardFile, "/yards/one.yard");
  EXPECT_EQ(left[1].yardFile, "/yards/zwei ü.yard");
  EXPECT_EQ(left[2].changes, 3);
}

TEST_F(Journals, NameTheYardAsItWasAtTheEnd) {
  Yard yard = yard::emptyYard();
  {
    Journal journal = Journal::start(folder, "", yard).value();
    Editor edit(yard);
    edit.update<yard::Site>(yard::siteId(yard), [](yard::Site& s) { s.name = "Elm Street"; });
    ASSERT_TRUE(journal.append(edit.finish("Name the yard")));
  }
  EXPECT_EQ(leftJournals(folder).at(0).yardName, "Elm Street");
}

TEST_F(Journals, EndWithSavingAndDiscarding) {
  Yard yard = yard::emptyYard();
  Journal journal = Journal::start(folder, "", yard).value();
  const Change change = added(yard, "arch");
  ASSERT_TRUE(journal.append(change));
  yard = apply(yard, change);
  ASSERT_TRUE(journal.reset("/yards/saved.yard", yard));
  EXPECT_EQ(std::distance(fs::directory_iterator(folder), {}), 1);
  EXPECT_TRUE(recover(journal.file()).value() == yard);
  const Change next = added(yard, "ring");
  ASSERT_TRUE(journal.append(next));
  EXPECT_TRUE(recover(journal.file()).value() == apply(yard, next));
  journal.discard();
  EXPECT_TRUE(fs::is_empty(folder));
  EXPECT_FALSE(journal.append(next));
}

TEST_F(Journals, ATornLastLineIsDropped) {
  const fs::path file = abandoned({"a", "b"});
  const std::string whole = read(file);
  const std::size_t lastLine = whole.rfind('\n', whole.size() - 2) + 1;
  for (std::size_t cut = lastLine; cut < whole.size(); cut += 3) {
    write(file, whole.substr(0, cut));
    const auto yard = recover(file);
    ASSERT_TRUE(yard) << cut << base::text(yard.error());
    EXPECT_EQ(yard::all<Prop>(*yard).size(), 1u);
    ASSERT_EQ(leftJournals(folder).size(), 1u);
    EXPECT_EQ(leftJournals(folder)[0].lastChange, "Add a");
  }
  write(file, whole.substr(0, lastLine) + std::string(20, '\0') + "\n");
  EXPECT_EQ(yard::all<Prop>(recover(file).value()).size(), 1u);
  write(file, whole + std::string(4096, '\0'));  // blocks that the disk promised but never wrote
  EXPECT_EQ(yard::all<Prop>(recover(file).value()).size(), 2u);
}

TEST_F(Journals, CutAnywhereNeverCrashesAndNeverInvents) {
  const fs::path file = abandoned({"a", "b", "c"});
  const std::string whole = read(file);
  for (std::size_t cut = 0; cut < whole.size(); cut += 97) {
    write(file, whole.substr(0, cut));
    if (const auto yard = recover(file))
      EXPECT_LE(yard::all<Prop>(*yard).size(), 3u);
    else
      EXPECT_EQ(yard.error().code, base::ErrorCode::Unreadable);
  }
}

TEST_F(Journals, OtherDamageIsAnErrorThatNamesTheLine) {
  const fs::path file = abandoned({"a", "b", "c"});
  const std::string whole = read(file);
  std::string damaged = whole;
  damaged[whole.find("Add b") - 4] = '\x01';
  write(file, damaged);
  EXPECT_NE(refusal(file).find("line "), std::string::npos) << refusal(file);
  EXPECT_NE(refusal(file).find("damaged"), std::string::npos);
  ASSERT_EQ(leftJournals(folder).size(), 1u);  // still offered, not hidden
  EXPECT_EQ(leftJournals(folder)[0].lastChange, "Add a");
  damaged = whole;
  damaged[whole.find("Add a") - 4] = '\x01';
  write(file, damaged);
  EXPECT_EQ(leftJournals(folder).size(), 1u);
  damaged = whole;
  damaged.replace(damaged.find("\"usual_voltage\""), 15, "\"other_voltage\"");
  write(file, damaged);
  EXPECT_NE(refusal(file).find("settings 1, field other_voltage"), std::string::npos) << refusal(file);
  write(file, "{\"journal\":\"another\",\"version\":1}\n");
  EXPECT_NE(refusal(file).find("not a crash journal"), std::string::npos);
  write(file, "{\"journal\":\"yardwright\",\"version\":2,\"yard_file\":\"\"}\n{}\n");
  EXPECT_NE(refusal(file).find("version 2"), std::string::npos);
  write(file, whole.substr(0, whole.find("{\"start\"")));
  EXPECT_NE(refusal(file).find("before its first change"), std::string::npos);
  EXPECT_NE(refusal(folder / "none.journal").find("could not be read"), std::string::npos);
}

/// Runs `work` in a child of its own, which ends by SIGKILL.
template <class Work>
void inKilledChild(Work work) {
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) {
    work();
    ::_exit(9);
  }
  int status = 0;
  ASSERT_EQ(::waitpid(child, &status, 0), child);
  ASSERT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL) << status;
}

TEST_F(Journals, SurviveAKillAtAnyMoment) {
  for (const int killAfter : {1, 2, 17, 60}) {
    const fs::path own = folder / std::to_string(killAfter);
    inKilledChild([&] {
      RandomEdits random(11);
      Yard yard = yard::emptyYard();
      auto journal = Journal::start(own, "/yards/ours.yard", yard);
      for (int done = 0; journal; ++done) {
        if (done == killAfter) ::kill(::getpid(), SIGKILL);
        const Change change = random.next(yard);
        if (!journal->append(change)) break;
        yard = apply(yard, change);
      }
    });
    RandomEdits random(11);
    Yard expected = yard::emptyYard();
    std::int64_t lines = 0;
    for (int done = 0; done < killAfter; ++done, ++lines) expected = apply(expected, random.next(expected));
    const auto left = leftJournals(own);
    ASSERT_EQ(left.size(), 1u);
    EXPECT_EQ(left[0].changes, lines);
    EXPECT_TRUE(recover(left[0].file).value() == expected);
  }
}

TEST_F(Journals, SurviveAKillInTheMiddleOfWriting) {
  int pipeEnds[2];
  ASSERT_EQ(::pipe(pipeEnds), 0);
  const pid_t child = ::fork();
  ASSERT_GE(child, 0);
  if (child == 0) {  // appends as fast as it can and tells of each change that is safe
    RandomEdits random(13);
    Yard yard = yard::emptyYard();
    auto journal = Journal::start(folder, "", yard);
    while (journal) {
      const Change change = random.next(yard);
      if (!journal->append(change) || ::write(pipeEnds[1], ".", 1) != 1) break;
      yard = apply(yard, change);
    }
    ::_exit(9);
  }
  ::close(pipeEnds[1]);
  std::int64_t safe = 0;
  for (char dot; safe < 50 && ::read(pipeEnds[0], &dot, 1) == 1;) ++safe;
  ::kill(child, SIGKILL);
  ::waitpid(child, nullptr, 0);
  for (char dot; ::read(pipeEnds[0], &dot, 1) == 1;) ++safe;
  ::close(pipeEnds[0]);
  ASSERT_GE(safe, 50);
  const auto left = leftJournals(folder);
  ASSERT_EQ(left.size(), 1u);
  EXPECT_GE(left[0].changes, safe);
  RandomEdits random(13);
  Yard expected = yard::emptyYard();
  for (std::int64_t i = 0; i < left[0].changes; ++i) expected = apply(expected, random.next(expected));
  EXPECT_TRUE(recover(left[0].file).value() == expected);
}

TEST_F(Journals, AFullDiskIsToldAndTheChangeIsWrittenLater) {
  Yard yard = yard::emptyYard();
  Journal journal = Journal::start(folder, "", yard).value();
  const Change first = added(yard, std::string(3000, 'a'));
  const auto size = fs::file_size(journal.file());
  ::signal(SIGXFSZ, SIG_IGN);
  rlimit old{};
  ::getrlimit(RLIMIT_FSIZE, &old);
  const rlimit tight{size + 100, old.rlim_max};
  ASSERT_EQ(::setrlimit(RLIMIT_FSIZE, &tight), 0);
  const auto refused = journal.append(first);
  ::setrlimit(RLIMIT_FSIZE, &old);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, base::ErrorCode::CannotWrite);
  EXPECT_NE(base::text(refused.error()).find(journal.file().string()), std::string::npos);
  EXPECT_EQ(fs::file_size(journal.file()), size);
  yard = apply(yard, first);
  const Change second = added(yard, "later");
  ASSERT_TRUE(journal.append(second));
  EXPECT_TRUE(recover(journal.file()).value() == apply(yard, second));
}

TEST_F(Journals, AFolderThatCannotBeMadeIsAnError) {
  write(folder / "file", "");
  const auto journal = Journal::start(folder / "file" / "sub", "", yard::emptyYard());
  ASSERT_FALSE(journal);
  EXPECT_EQ(journal.error().code, base::ErrorCode::CannotWrite);
  EXPECT_TRUE(leftJournals(folder / "nowhere").empty());
}

}  // namespace
}  // namespace yw::edit
