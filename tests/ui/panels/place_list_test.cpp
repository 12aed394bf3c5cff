// Place: every kind of prop as a drawing; picking and dragging name the kind that was meant.
#include <gtest/gtest.h>

#include <QMimeData>
#include <QSignalSpy>
#include <QTemporaryDir>
#include <QTest>

#include "core/file/my_props.h"
#include "core/shapes/shape.h"
#include "ui/canvas/canvas_view.h"
#include "ui/canvas/tools/place_tool.h"
#include "ui/canvas/yard_view.h"
#include "ui/panels/place_list.h"

namespace yw::ui {

namespace {

/// Opens up what a drag would carry.
class OpenList : public PlaceList {
 public:
  QByteArray carried(QListWidgetItem* item) const {
    const std::unique_ptr<QMimeData> data(mimeData({item}));
    return data->data(QLatin1String(CanvasView::kPlaceMime));
  }
};

int inkIn(const QImage& image) {
  int ink = 0;
  for (int y = 0; y < image.height(); ++y)
    for (int x = 0; x < image.width(); ++x) ink += qAlpha(image.pixel(x, y)) > 100 ? 1 : 0;
  return ink;
}

}  // namespace

TEST(PlaceList, DrawsEveryKindWithItsPixels) {
  PlaceList list;
  list.fill(false);
  ASSERT_EQ(list.count(), static_cast<int>(shapes::kinds().size()));
  for (int i = 0; i < list.count(); ++i) {
    const QListWidgetItem* item = list.item(i);
    const std::string kind = item->data(Qt::UserRole).toString().toStdString();
    const auto shape = shapes::make(shapes::usualProp(kind));
    ASSERT_TRUE(shape) << kind;
    EXPECT_TRUE(item->text().contains(QString::number(shape->pixels.size()))) << item->text().toStdString();
    EXPECT_GT(inkIn(shapePicture(kind, 54, 1.0).toImage()), 20) << kind;
  }
}

TEST(PlaceList, TellsSizesInTheYardsUnits) {
  PlaceList list;
  list.fill(false);
  EXPECT_TRUE(list.item(0)->text().contains(QStringLiteral("′")));
  list.fill(true);
  EXPECT_FALSE(list.item(0)->text().contains(QStringLiteral("′")));
  EXPECT_TRUE(list.item(0)->text().contains(QStringLiteral(" m")));
}

TEST(PlaceList, EnterTakesTheCurrentKindAndCloses) {
  PlaceList list;
  list.fill(false);
  list.show();
  QSignalSpy picked(&list, &PlaceList::picked);
  list.setCurrentRow(3);
  QTest::keyClick(&list, Qt::Key_Return);
  ASSERT_EQ(picked.size(), 1);
  EXPECT_EQ(picked.first().first().toString(), list.item(3)->data(Qt::UserRole).toString());
  EXPECT_FALSE(list.isVisible());
}

TEST(PlaceList, EscapeAndAPressOutsideCloseIt) {
  PlaceList list;
  list.fill(false);
  list.show();
  QTest::keyClick(&list, Qt::Key_Escape);
  EXPECT_FALSE(list.isVisible());
  list.show();
  QTest::mouseClick(list.viewport(), Qt::LeftButton, {}, QPoint(-30, -30));
  EXPECT_FALSE(list.isVisible());
  list.show();
  QTest::mouseClick(list.viewport(), Qt::LeftButton, {}, list.visualItemRect(list.item(0)).bottomLeft());
  EXPECT_FALSE(list.isVisible()) << "a click on a kind takes it";
}

TEST(PlaceList, ADragCarriesWhatTheYardCanPlace) {
  OpenList list;
  list.fill(false);
  for (int i = 0; i < list.count(); ++i) {
    const auto what = PlaceWhat::fromMime(list.carried(list.item(i)));
    ASSERT_TRUE(what);
    EXPECT_EQ(what->kind, list.item(i)->data(Qt::UserRole).toString().toStdString());
  }
}

TEST(PlaceList, ShowsMyPropsFirstAndPlacesOneWithItsSizesAndPixel) {
  QTemporaryDir home;
  qputenv("XDG_DATA_HOME", home.path().toUtf8());
  edit::Editor editor(yard::emptyYard());
  yard::Prop ring = shapes::usualProp("ring");
  ring.name = "Porch ring";
  ring.sizes["diameter"] = base::inches(40).count;
  const base::Id id = editor.add(ring);
  const auto library = file::withMyProp(yard::emptyYard(), editor.yard(), id);
  ASSERT_TRUE(library);
  ASSERT_TRUE(file::saveMyProps(*library, file::myPropsFile()));
  OpenList list;
  list.fill(false);
  EXPECT_EQ(list.count(), static_cast<int>(shapes::kinds().size()) + 1);
  EXPECT_TRUE(list.item(0)->text().startsWith("Porch ring (mine)"));
  const auto what = PlaceWhat::fromMime(list.carried(list.item(0)));
  ASSERT_TRUE(what);
  Document document;
  YardView view(document);
  PlaceTool tool(view, *what);
  ASSERT_TRUE(tool.placeAt(QPointF(1000, -2000)));
  const auto props = yard::all<yard::Prop>(document.yard());
  ASSERT_EQ(props.size(), 1U);
  EXPECT_EQ(props[0].second->sizes.at("diameter"), base::inches(40).count);
  EXPECT_EQ(props[0].second->at, base::point(base::Vec2{1, 2}));
  qunsetenv("XDG_DATA_HOME");
}

}  // namespace yw::ui
