// Needs attention on a yard with something to mend: read, mended by one click, undone by one step.
#include <gtest/gtest.h>

#include <QPushButton>
#include <QTest>

#include "core/file/yard_file.h"
#include "ui/panels/attention_panel.h"
#include "ui/panels/totals_bar.h"

namespace yw::ui {

struct Panel {
  Document document;
  AttentionPanel panel{document};
  Panel() {
    EXPECT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard")));
    document.settle();
    panel.resize(340, 700);
    panel.show();
  }
  const findings::Finding* finding(const std::string& rule) const {
    for (const auto& f : document.report()->findings)
      if (f.rule == rule) return &f;
    return nullptr;
  }
  /// Opens the finding of that rule and gives its remedy button.
  QPushButton* remedy(const std::string& rule) {
    panel.openFinding(findings::identity(*finding(rule)));
    EXPECT_TRUE(QTest::qWaitFor([this] { return panel.remedyKnown(); }, 5000));
    QTest::qWait(20);  // the list that knew no remedy is gone
    return panel.findChild<QPushButton*>(QStringLiteral("remedy_button"));
  }
};

TEST(AttentionPanel, MendsByOneClickAndUndoesInOneStepToTheSameBytes) {
  for (const char* rule : {"fuse_and_wire", "low_volts", "crossing"}) {
    Panel p;
    ASSERT_TRUE(p.finding(rule)) << rule;
    const std::string before = file::bytesOf(p.document.yard());
    QPushButton* button = p.remedy(rule);
    ASSERT_TRUE(button) << rule;
    EXPECT_GT(button->text().size(), 10) << "it says exactly what it will do";
    QTest::mouseClick(button, Qt::LeftButton);
    QTest::qWait(20);
    p.document.settle();
    EXPECT_EQ(p.document.history().steps().size(), 1u) << rule;
    EXPECT_FALSE(p.finding(rule)) << rule << " is still there";
    p.document.undo();
    EXPECT_EQ(file::bytesOf(p.document.yard()), before) << rule;
    p.document.settle();
    EXPECT_TRUE(p.finding(rule)) << rule;
  }
}

TEST(AttentionPanel, SelectsWhatAFindingIsAboutAndMarksWhatTheSelectionHas) {
  Panel p;
  const findings::Finding finding = *p.finding("low_volts");
  p.panel.openFinding(findings::identity(finding));
  EXPECT_EQ(p.panel.openedFinding(), findings::identity(finding));
}

TEST(TotalsBar, SaysTheEnginesTotals) {
  Document document;
  ASSERT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard")));
  document.settle();
  TotalsBar bar(document);
  EXPECT_TRUE(bar.text().startsWith(QString::number(document.assessment()->totals.pixels)))
      << bar.text().toStdString();
}

}  // namespace yw::ui
