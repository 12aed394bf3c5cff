// Outlines from a file: what is proposed, chosen, scaled and taken, and what is refused.
#include <gtest/gtest.h>

#include <QComboBox>
#include <QFile>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTemporaryDir>
#include <QTest>
#include <QTreeWidget>

#include "ui/dialogs/outline_dialog.h"
#include "ui/dialogs/outline_picture.h"

namespace yw::ui {
namespace {

using yard::FeatureKind;

struct Opened {
  QTemporaryDir folder;
  Document document;
  OutlineDialog dialog{document};
  QString write(const QString& name, const QByteArray& bytes) {
    QFile file(folder.filePath(name));
    EXPECT_TRUE(file.open(QIODevice::WriteOnly));
    file.write(bytes);
    return file.fileName();
  }
  template <class W>
  W* find(const char* name) {
    return dialog.findChild<W*>(QLatin1String(name));
  }
};

/// A house 40 by 30 and a walk of three corners on layers of their own, in no unit, and a stray line.
QByteArray drawing() {
  return "0\nSECTION\n2\nENTITIES\n"
         "0\nLWPOLYLINE\n8\nHOUSE\n70\n1\n10\n0\n20\n0\n10\n40\n20\n0\n10\n40\n20\n30\n10\n0\n20\n30\n"
         "0\nLWPOLYLINE\n8\nPAVING\n70\n1\n10\n10\n20\n-20\n10\n14\n20\n-20\n10\n14\n20\n0\n"
         "0\nLINE\n8\nX\n10\n-10\n20\n-10\n11\n50\n21\n-10\n0\nENDSEC\n0\nEOF\n";
}

TEST(OutlineDialog, TakesWhatIsChosenInOneStepAndSelectsIt) {
  Opened o;
  o.document.newYard();
  o.dialog.setFile(o.write("plan.dxf", drawing()));
  o.dialog.show();
  auto* tree = o.find<QTreeWidget>("outline_tree");
  ASSERT_EQ(tree->topLevelItemCount(), 3);
  EXPECT_EQ(o.dialog.outlines().outlines[0].kind, FeatureKind::House);
  // The paving's layer becomes a walk, the stray line is left out.
  auto* kind = o.find<QComboBox>("outline_kind");
  for (const auto& [layer, text] : {std::pair{"PAVING", "Walk"}, {"X", "Left out"}}) {
    tree->setCurrentItem(tree->findItems(QLatin1String(layer), Qt::MatchExactly).value(0));
    kind->setCurrentIndex(kind->findText(QLatin1String(text)));
    Q_EMIT kind->activated(kind->currentIndex());
  }
  const std::size_t before = o.document.history().position();
  o.dialog.accept();
  EXPECT_EQ(o.document.history().position(), before + 1);
  const auto features = yard::all<yard::GroundFeature>(o.document.yard());
  ASSERT_EQ(features.size(), 2U);
  EXPECT_EQ(features[0].second->kind, FeatureKind::House);
  EXPECT_EQ(features[1].second->kind, FeatureKind::Walk);
  EXPECT_EQ(yard::all<yard::Wall>(o.document.yard()).size(), 4U);
  EXPECT_EQ(features[0].second->outline[1], (base::Point{base::feet(40), {}})) << "feet without a unit";
  EXPECT_EQ(o.document.selection().ids().size(), 2U);
  o.document.undo();
  EXPECT_TRUE(yard::all<yard::GroundFeature>(o.document.yard()).empty());
}

TEST(OutlineDialog, ScalesByTwoCornersAndTheirTrueDistance) {
  Opened o;
  o.document.newYard();
  o.dialog.setFile(o.write("plan.dxf", drawing()));
  o.dialog.show();
  auto* picture = o.find<OutlinePicture>("outline_picture");
  for (const base::Point corner : {base::Point{}, base::Point{{}, base::feet(30)}})
    QTest::mouseClick(picture, Qt::LeftButton, {}, picture->placeOf(corner).toPoint());
  auto* known = o.find<QLineEdit>("edit_outline_known");
  ASSERT_NE(known, nullptr);
  known->setFocus();
  known->selectAll();
  QTest::keyClicks(known, "24' 6\"");
  QTest::keyClick(known, Qt::Key_Return);
  EXPECT_NEAR(o.dialog.factor(), 24.5 / 30, 1e-9);
  EXPECT_TRUE(o.dialog.isVisible()) << "Enter takes the length, not the dialog";
  o.dialog.accept();
  const auto features = yard::all<yard::GroundFeature>(o.document.yard());
  ASSERT_FALSE(features.empty());
  EXPECT_NEAR(base::metres(features[0].second->outline[2].y).si, 24.5 * 0.3048, 1e-6);
}

TEST(OutlineDialog, SaysWhyAFileCannotBeTaken) {
  Opened o;
  o.document.newYard();
  o.dialog.setFile(
      o.write("map.geojson", R"({"type":"Feature","properties":{},"geometry":{"type":"LineString",
      "coordinates":[[612000.5,200000],[612010,200000]]}})"));
  EXPECT_TRUE(o.find<QLabel>("outline_reason")->text().contains("612000.5"))
      << o.find<QLabel>("outline_reason")->text().toStdString();
  EXPECT_FALSE(o.find<QPushButton>("outline_take")->isEnabled());
  o.dialog.setFile(o.folder.filePath("missing.svg"));
  EXPECT_TRUE(o.find<QLabel>("outline_reason")->text().contains("missing.svg"));
}

}  // namespace
}  // namespace yw::ui
