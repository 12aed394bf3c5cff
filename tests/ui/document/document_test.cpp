// The open yard: steps, drags, files, journal.
#include <gtest/gtest.h>

#include <QElapsedTimer>
#include <QFile>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include "core/edit/journal.h"
#include "core/file/yard_file.h"
#include "core/shapes/shape.h"
#include "ui/document/document.h"

namespace yw::ui {

edit::Change addRing(const yard::Yard& yard, const char* name) {
  edit::Editor editor(yard);
  yard::Prop ring = shapes::usualProp("ring");
  ring.name = name;
  editor.add(ring);
  return editor.finish(std::string("Place ") + name);
}

TEST(Document, UndoesAndRedoesByNameToTheSameBytes) {
  Document document;
  document.newYard();
  const std::string before = file::bytesOf(document.yard());
  document.commit(addRing(document.yard(), "Ring 1"));
  const std::string after = file::bytesOf(document.yard());
  EXPECT_EQ(document.history().undoName(), "Place Ring 1");
  EXPECT_FALSE(document.isSaved());
  document.undo();
  EXPECT_EQ(file::bytesOf(document.yard()), before);
  EXPECT_TRUE(document.isSaved());
  document.redo();
  EXPECT_EQ(file::bytesOf(document.yard()), after);
}

TEST(Document, ShowsADragWithoutKeepingIt) {
  Document document;
  document.newYard();
  const std::string before = file::bytesOf(document.yard());
  document.setTentative(addRing(document.yard(), "Ghost"));
  EXPECT_EQ(yard::all<yard::Prop>(document.shownYard()).size(), 1u);
  EXPECT_EQ(file::bytesOf(document.yard()), before);
  document.clearTentative();
  EXPECT_TRUE(yard::all<yard::Prop>(document.shownYard()).empty());
  EXPECT_FALSE(document.history().canUndo());
}

TEST(Document, FiguresAreLive) {
  Document document;
  document.newYard();
  document.commit(addRing(document.yard(), "Ring 1"));
  document.settle();
  ASSERT_TRUE(document.assessment());
  EXPECT_FALSE(document.stale());
  EXPECT_EQ(document.assessment()->totals.props, 1);
  EXPECT_EQ(document.report()->notWired.size(), 1u);
}

TEST(Document, KeepsTheOpenYardWhenAnotherFileIsBad) {
  QTemporaryDir folder;
  const QString path = folder.filePath(QStringLiteral("broken yard ü.yard"));
  QFile file(path);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write("{\"format\":\"yardwright\",\"version\":1,\"next_id\":5,\n\"records\":[\n");
  file.close();
  Document document;
  document.newYard();
  document.commit(addRing(document.yard(), "Ring 1"));
  const std::string before = file::bytesOf(document.yard());
  const auto opened = document.open(path);
  ASSERT_FALSE(opened);
  EXPECT_FALSE(base::text(opened.error()).empty());
  EXPECT_EQ(file::bytesOf(document.yard()), before);
  EXPECT_EQ(document.history().undoName(), "Place Ring 1");
}

TEST(Document, SavesOpensAndIsSavedAgainByUndoingBack) {
  QTemporaryDir folder;
  const QString path = folder.filePath(QStringLiteral("My yard.yard"));
  Document document;
  document.newYard();
  document.commit(addRing(document.yard(), "Ring 1"));
  ASSERT_TRUE(document.save(path));
  EXPECT_TRUE(document.isSaved());
  document.commit(addRing(document.yard(), "Ring 2"));
  EXPECT_FALSE(document.isSaved());
  document.undo();
  EXPECT_TRUE(document.isSaved());
  Document other;
  ASSERT_TRUE(other.open(path));
  EXPECT_EQ(file::bytesOf(other.yard()), file::bytesOf(document.yard()));
}

TEST(Document, AYardWithoutANameTakesThatOfItsFirstFile) {
  QTemporaryDir folder;
  Document document;
  document.newYard();
  document.commit(addRing(document.yard(), "Ring 1"));
  ASSERT_TRUE(document.save(folder.filePath(QStringLiteral("Front lawn.yard"))));
  EXPECT_EQ(yard::site(document.yard()).name, "Front lawn");
  EXPECT_TRUE(document.isSaved());
  ASSERT_TRUE(document.save(folder.filePath(QStringLiteral("Copy.yard"))));
  EXPECT_EQ(yard::site(document.yard()).name, "Front lawn") << "it has a name now";
  document.undo();
  EXPECT_TRUE(yard::site(document.yard()).name.empty());
  Document other;
  other.newYard();
  EXPECT_FALSE(other.save(folder.filePath(QStringLiteral("no folder/a.yard"))));
  EXPECT_TRUE(yard::site(other.yard()).name.empty()) << "what was not saved changes nothing";
}

// On a yard whose figures take longer than a move of the hand, they once came only when the hand rested.
TEST(Document, FiguresComeWhileADragGoesOn) {
  Document document;
  ASSERT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/large-grounds.yard")));
  const auto props = yard::all<yard::Prop>(document.yard());
  const auto& [id, prop] = props.front();
  int figures = 0;
  QObject::connect(&document, &Document::assessed, [&] { ++figures; });
  QElapsedTimer clock;
  clock.start();
  std::int64_t moves = 0;
  while (figures < 3 && clock.elapsed() < 20'000) {
    edit::Editor editor(document.yard());
    editor.update<yard::Prop>(id, [&](yard::Prop& p) { p.at.x.count += ++moves * 10'000'000; });
    document.setTentative(editor.finish("drag"));
    QTest::qWait(4);  // the hand never rests
  }
  EXPECT_GE(figures, 3) << moves << " moves";
  ASSERT_TRUE(yard::find<yard::Prop>(document.assessment()->yard, id));
  EXPECT_NE(yard::find<yard::Prop>(document.assessment()->yard, id)->at, prop->at);
  document.clearTentative();
  document.settle();
  EXPECT_EQ(yard::find<yard::Prop>(document.assessment()->yard, id)->at, prop->at);
  EXPECT_FALSE(document.stale());
}

// A killed program leaves its journal: here one is left behind by copying it while its owner lives.
TEST(Document, WorkThatWasNeverSavedComesBackFromTheJournal) {
  std::string wanted;
  const std::filesystem::path copy = Document::journalFolder() / "copied-by-a-test.journal";
  {
    Document document;
    document.newYard();
    document.commit(addRing(document.yard(), "Ring 1"));
    document.commit(addRing(document.yard(), "Ring 2"));
    document.undo();
    wanted = file::bytesOf(document.yard());
    for (const auto& entry : std::filesystem::directory_iterator(Document::journalFolder()))
      if (entry.path() != copy)
        std::filesystem::copy_file(entry.path(), copy, std::filesystem::copy_options::overwrite_existing);
  }
  const auto recovered = edit::recover(copy);
  ASSERT_TRUE(recovered) << base::text(recovered.error());
  EXPECT_EQ(file::bytesOf(*recovered), wanted);
  Document document;
  document.takeRecovered(Document::ready(*recovered), {});
  EXPECT_FALSE(document.isSaved());
  EXPECT_EQ(file::bytesOf(document.yard()), wanted);
  std::filesystem::remove(copy);
}

}  // namespace yw::ui
