#include "ui/dialogs/plan_dialog.h"

#include <gtest/gtest.h>

#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QTest>
#include <QTreeWidget>
#include <QTreeWidgetItem>

#include "core/file/yard_file.h"

namespace yw::ui {
namespace {

constexpr int kPatience = 60'000;  // ms; it takes well under a second

/// The small sample without its runs and cables: bare props and boxes.
void openBare(Document& document) {
  ASSERT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard")));
  edit::Editor editor(document.yard());
  std::vector<base::Id> gone;
  for (const auto& [id, record] : document.yard().records)
    if (std::holds_alternative<yard::Run>(*record) || std::holds_alternative<yard::Cable>(*record))
      gone.push_back(id);
  editor.remove(gone);
  document.commit(editor.finish("Take all wiring away"));
  document.settle();
}

template <class W>
W& part(PlanDialog& dialog, const char* name) {
  return *dialog.findChild<W*>(QString::fromLatin1(name));
}

TEST(PlanDialog, WiresABareYardInOneStepThatUndoTakesBack) {
  Document document;
  openBare(document);
  const std::string before = file::bytesOf(document.yard());
  PlanDialog dialog(document, nullptr);
  EXPECT_FALSE(part<QPushButton>(dialog, "planTake").isEnabled());
  EXPECT_FALSE(part<QCheckBox>(dialog, "planPart_sites").isChecked()) << "a box stays where a hand put it";
  part<QCheckBox>(dialog, "planPart_sites").setChecked(true);
  part<QPushButton>(dialog, "planWorkOut").click();
  EXPECT_TRUE(dialog.working());
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  EXPECT_EQ(file::bytesOf(document.yard()), before) << "nothing changes before it is taken";
  const auto& steps = part<QTreeWidget>(dialog, "planSteps");
  EXPECT_EQ(steps.topLevelItemCount(), static_cast<int>(propose::planParts().size()));
  part<QPushButton>(dialog, "planTake").click();
  document.settle();
  EXPECT_TRUE(document.assessment()->unwired.empty());
  EXPECT_FALSE(document.report()->failing);
  EXPECT_EQ(document.history().undoName(), "Take the proposals");
  document.undo();
  EXPECT_EQ(file::bytesOf(document.yard()), before);
}

// Long reasons were once cut off with dots, and only a tool tip had them whole.
TEST(PlanDialog, ShowsEveryReasonWholeAtAnyWidth) {
  Document document;
  openBare(document);
  PlanDialog dialog(document, nullptr);
  dialog.show();
  dialog.workOut();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  auto& steps = part<QTreeWidget>(dialog, "planSteps");
  steps.expandAll();
  int many = 0;  // rows of more than one line
  for (const int width : {560, 900}) {
    dialog.resize(width, 700);
    QCoreApplication::processEvents();
    for (int p = 0; p < steps.topLevelItemCount(); ++p)
      for (int k = 0; k < steps.topLevelItem(p)->childCount(); ++k) {
        const QTreeWidgetItem* item = steps.topLevelItem(p)->child(k);
        const QRect row = steps.visualItemRect(item);
        const QRect needed = steps.fontMetrics().boundingRect(QRect(0, 0, row.width() - 40, 10'000),
                                                              Qt::TextWordWrap, item->text(0));
        EXPECT_GE(row.height(), needed.height()) << item->text(0).toStdString() << " at " << width;
        many += needed.height() > steps.fontMetrics().height() * 3 / 2 ? 1 : 0;
      }
  }
  EXPECT_GT(many, 3) << "the sample has reasons longer than a line";
}

TEST(PlanDialog, PlansOnlyWhatIsTicked) {
  Document document;
  openBare(document);
  PlanDialog dialog(document, nullptr);
  for (const propose::PlanPart& p : propose::planParts())
    part<QCheckBox>(dialog, (std::string("planPart_") + p.key).c_str()).setChecked(false);
  dialog.workOut();
  EXPECT_FALSE(dialog.working()) << "nothing is ticked";
  part<QCheckBox>(dialog, "planPart_circuits").setChecked(true);
  dialog.workOut();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  EXPECT_EQ(part<QTreeWidget>(dialog, "planSteps").topLevelItemCount(), 1);
}

TEST(PlanDialog, PlansRoundAStepThatIsUnticked) {
  Document document;
  openBare(document);
  const std::string before = file::bytesOf(document.yard());
  PlanDialog dialog(document, nullptr);
  dialog.workOut();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  auto& steps = part<QTreeWidget>(dialog, "planSteps");
  const auto ofPorts = [&]() -> QTreeWidgetItem* {
    for (int i = 0; i < steps.topLevelItemCount(); ++i)
      if (steps.topLevelItem(i)->text(0).startsWith(QStringLiteral("Ports"))) return steps.topLevelItem(i);
    return nullptr;
  };
  ASSERT_NE(ofPorts(), nullptr);
  QTreeWidgetItem* first = ofPorts()->child(0);
  ASSERT_EQ(first->checkState(0), Qt::Checked);
  const QString what = first->text(0);
  first->setCheckState(0, Qt::Unchecked);
  ASSERT_TRUE(QTest::qWaitFor([&] { return dialog.working(); }, kPatience));
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  int left = 0;
  for (int i = 0; i < ofPorts()->childCount(); ++i) {
    const QTreeWidgetItem* item = ofPorts()->child(i);
    if (item->checkState(0) == Qt::Unchecked) left += item->text(0) == what ? 1 : 0;
    if (item->checkState(0) == Qt::Checked) {
      EXPECT_NE(item->text(0), what);
    }
  }
  EXPECT_EQ(left, 1) << "what is left out stays to be ticked again";
  part<QPushButton>(dialog, "planTake").click();
  document.settle();
  EXPECT_FALSE(document.assessment()->unwired.empty()) << "its props hang on no port";
  EXPECT_FALSE(document.report()->failing);
  document.undo();
  EXPECT_EQ(file::bytesOf(document.yard()), before);
}

TEST(PlanDialog, ForgetsAPlanOnceTheYardIsAnother) {
  Document document;
  openBare(document);
  PlanDialog dialog(document, nullptr);
  dialog.workOut();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  EXPECT_TRUE(part<QPushButton>(dialog, "planTake").isEnabled());
  document.undo();
  EXPECT_FALSE(part<QPushButton>(dialog, "planTake").isEnabled());
  EXPECT_EQ(part<QTreeWidget>(dialog, "planSteps").topLevelItemCount(), 0);
}

TEST(PlanDialog, StopsAfterThePartAtHandAndSaysSo) {
  Document document;
  openBare(document);
  PlanDialog dialog(document, nullptr);
  dialog.workOut();
  dialog.stopHere();
  ASSERT_TRUE(QTest::qWaitFor([&] { return !dialog.working(); }, kPatience));
  EXPECT_LT(part<QTreeWidget>(dialog, "planSteps").topLevelItemCount(),
            static_cast<int>(propose::planParts().size()) - 1);
  EXPECT_TRUE(part<QLabel>(dialog, "planSaid").text().contains(QStringLiteral("Stopped")));
}

}  // namespace
}  // namespace yw::ui
