// Ideas: made, shown, named, dropped and adopted in one step each; figures side by side from the background.
#include <gtest/gtest.h>

#include <QApplication>
#include <QDialog>
#include <QElapsedTimer>
#include <QLabel>
#include <QListWidget>
#include <QPushButton>
#include <QTableView>
#include <QTemporaryDir>
#include <QTest>
#include <QTimer>

#include "core/file/yard_file.h"
#include "ui/panels/ideas/ideas_panel.h"

namespace yw::ui {

namespace {

using base::Id;
constexpr int kPatience = 60'000;  // ms; it takes well under a second

struct Ideas {
  Document document;
  IdeasPanel panel{document};
  explicit Ideas(const char* sample = "porch-and-lawn.yard") {
    EXPECT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/") + QLatin1String(sample)));
    document.settle();
    panel.resize(1100, 400);
    panel.show();
  }
  std::string bytes() const { return file::bytesOf(document.yard()); }
  const std::string& lastStep() { return document.history().undoName(); }
  void press(const char* name) { panel.findChild<QPushButton*>(QLatin1String(name))->click(); }
  QListWidget& list() { return *panel.findChild<QListWidget*>(QStringLiteral("ideaList")); }
  Id named(const char* name) { return edit::ideaNamed(document.yard(), name); }
  void compute() {
    ASSERT_TRUE(QTest::qWaitFor([&] { return panel.upToDate(); }, kPatience));
  }
  void removeAProp() {
    edit::Editor editor(document.yard());
    editor.remove(yard::all<yard::Prop>(document.yard()).front().first);
    document.commit(editor.finish("Remove a prop"));
  }
  std::size_t props() { return yard::all<yard::Prop>(document.yard()).size(); }
  std::string figure(const char* what, std::size_t column) {
    for (const auto& row : panel.figures().rows)
      if (row[0].starts_with(what)) return row[column];
    return "no row";
  }
};

/// Presses the button with that text in the next modal box.
void answerNext(const QString& text) {
  QTimer::singleShot(30, [text] {
    QWidget* modal = QApplication::activeModalWidget();
    if (modal == nullptr) return answerNext(text);
    for (QPushButton* button : modal->findChildren<QPushButton*>())
      if (button->text() == text) return button->click();
    ADD_FAILURE() << "no button " << text.toStdString();
    qobject_cast<QDialog*>(modal)->reject();
  });
}

}  // namespace

TEST(IdeasPanel, MakesShowsAndDropsInOneUndoEach) {
  Ideas y;
  const std::string opened = y.bytes();
  EXPECT_EQ(y.list().count(), 1);
  EXPECT_EQ(y.panel.makeIdea(QStringLiteral("One prop less")), QString());
  EXPECT_EQ(y.lastStep(), "Make the idea One prop less");
  EXPECT_EQ(y.list().count(), 2);
  EXPECT_TRUE(y.list().item(1)->text().contains(QStringLiteral("shown")));
  EXPECT_FALSE(y.panel.makeIdea(QStringLiteral("One prop less")).isEmpty()) << "the name is taken";
  const std::size_t all = y.props();
  y.removeAProp();
  EXPECT_EQ(y.props(), all - 1);
  y.list().setCurrentRow(0);
  y.press("ideaShow");
  EXPECT_EQ(y.lastStep(), "Show the yard itself");
  EXPECT_EQ(y.props(), all);
  y.list().setCurrentRow(1);
  QTest::keyClick(&y.list(), Qt::Key_Return);
  EXPECT_EQ(y.lastStep(), "Show the idea One prop less");
  EXPECT_EQ(y.props(), all - 1);
  y.press("ideaDrop");
  EXPECT_EQ(y.lastStep(), "Drop the idea One prop less");
  EXPECT_EQ(y.props(), all);
  y.document.undo();
  EXPECT_EQ(y.props(), all - 1);
  y.press("ideaAdopt");
  EXPECT_EQ(y.lastStep(), "Make One prop less the yard");
  EXPECT_EQ(y.props(), all - 1);
  EXPECT_EQ(y.list().count(), 1);
  while (y.document.history().canUndo()) y.document.undo();
  EXPECT_EQ(y.bytes(), opened);
}

TEST(IdeasPanel, PutsTheEnginesFiguresSideBySide) {
  Ideas y;
  y.panel.makeIdea(QStringLiteral("One prop less"));
  y.removeAProp();
  y.compute();
  EXPECT_EQ(y.panel.figures().heads,
            (std::vector<std::string>{"", "The yard", "One prop less", "Difference"}));
  EXPECT_EQ(y.figure("Props", 3), "-1");
  y.document.settle();
  EXPECT_EQ(y.figure("Pixels", 2), std::to_string(y.document.assessment()->totals.pixels));
  EXPECT_EQ(y.figure("Won't work", 2),
            std::to_string(findings::countOf(*y.document.report(), findings::Severity::WontWork)));
  EXPECT_FALSE(y.panel.otherwise().rows.empty());
  EXPECT_TRUE(y.panel.figures().rows.back()[0].starts_with("To buy: ")) << y.panel.figures().rows.back()[0];
  // Figures follow an edit; until then they say so.
  y.removeAProp();
  EXPECT_FALSE(y.panel.upToDate());
  EXPECT_TRUE(
      y.panel.findChild<QLabel*>(QStringLiteral("ideasSaid"))->text().contains(QStringLiteral("Comput")));
  y.compute();
  EXPECT_EQ(y.figure("Props", 3), "-2");
  // What differs selects it on the Yard.
  auto* rows = y.panel.findChild<QTableView*>(QStringLiteral("ideaOtherwise"));
  for (int row = 0; row < rows->model()->rowCount(); ++row) rows->selectRow(row);
  for (const Id id : y.document.selection().ids()) EXPECT_TRUE(y.document.yard().records.contains(id));
}

TEST(IdeasPanel, AsksWhoseToKeepAndLeavesAllWhenToldTo) {
  Ideas y;
  const Id prop = yard::all<yard::Prop>(y.document.yard()).front().first;
  const auto rename = [&](const char* name) {
    edit::Editor editor(y.document.yard());
    editor.update<yard::Prop>(prop, [name](yard::Prop& p) { p.name = name; });
    y.document.commit(editor.finish("Rename it"));
  };
  const auto name = [&] { return yard::find<yard::Prop>(y.document.yard(), prop)->name; };
  y.panel.makeIdea(QStringLiteral("Other name"));
  rename("The idea's");
  y.list().setCurrentRow(0);
  y.press("ideaShow");
  rename("The yard's");
  const std::string before = y.bytes();
  y.list().setCurrentRow(1);
  answerNext(QStringLiteral("Leave it"));
  y.press("ideaShow");
  EXPECT_EQ(y.bytes(), before);
  y.compute();
  EXPECT_TRUE(
      y.panel.findChild<QLabel*>(QStringLiteral("ideasSaid"))->text().contains(QStringLiteral("Other name")));
  answerNext(QStringLiteral("Keep the idea's"));
  y.press("ideaShow");
  EXPECT_EQ(name(), "The idea's");
  y.list().setCurrentRow(0);
  y.press("ideaShow");
  EXPECT_EQ(name(), "The yard's");
}

TEST(IdeasPanel, AreSavedWithTheYardAndComeBack) {
  Ideas y;
  y.panel.makeIdea(QStringLiteral("Kept"));
  y.removeAProp();
  const std::size_t fewer = y.props();
  QTemporaryDir folder;
  const QString path = folder.filePath(QStringLiteral("kept.yard"));
  ASSERT_TRUE(y.document.save(path));
  Document again;
  ASSERT_TRUE(again.open(path));
  EXPECT_EQ(yard::all<yard::Prop>(again.yard()).size(), fewer);
  again.commit(edit::showIdea(again.yard(), {}).value());
  EXPECT_EQ(yard::all<yard::Prop>(again.yard()).size(), fewer + 1);
}

// Nothing blocks for more than 100 ms on the largest sample (ux-conventions, Speed: 0.1 s): showing an idea
// and making one, with the figures in the background.
TEST(IdeasPanel, IsQuickOnTheLargestSample) {
  Ideas y("large-grounds.yard");
  y.removeAProp();  // the first edit is assessed at once and tells how long that takes
  QElapsedTimer clock;
  clock.start();
  y.panel.makeIdea(QStringLiteral("One prop less"));
  const auto made = clock.restart();
  y.removeAProp();
  const auto edited = clock.restart();
  EXPECT_TRUE(showIdeaAsking(y.document, {}, nullptr));
  const auto shown = clock.elapsed();
  std::printf("make %lld, edit %lld, show %lld ms\n", static_cast<long long>(made),
              static_cast<long long>(edited), static_cast<long long>(shown));
  EXPECT_LT(made, 100);
  EXPECT_LT(shown, 100);
}

}  // namespace yw::ui
