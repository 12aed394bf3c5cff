// Forms of what stands between the pixels and the meter: the usual fuse, the wire, the cords.
#include <gtest/gtest.h>

#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTest>

#include "core/file/yard_file.h"
#include "ui/fields/pick_fields.h"
#include "ui/panels/item_facts.h"
#include "ui/panels/protection_line.h"
#include "ui/panels/record_form.h"

namespace yw::ui {

namespace {

using base::Id;

struct Porch {
  Document document;
  RecordForm form{document};
  Porch() {
    EXPECT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard")));
    document.settle();
  }
  template <class R>
  Id first() const {
    return yard::all<R>(document.yard()).front().first;
  }
  void open(Id id) {
    form.setRecords({id});
    form.show();
  }
  template <class W>
  W& found(const char* name) {
    auto* widget = form.findChild<W*>(QLatin1String(name));
    EXPECT_TRUE(widget) << name;
    return *widget;
  }
  void pick(const char* field, Id id) {
    QComboBox* combo = found<ReferenceField>(field).combo();
    const int index = combo->findData(QVariant::fromValue<qlonglong>(id.value));
    ASSERT_GE(index, 0) << field;
    combo->setCurrentIndex(index);
    Q_EMIT combo->activated(index);
    document.settle();
  }
};

}  // namespace

TEST(UsualFuse, StandsUnderThePortsWithItsLimitAndFitsInOneStep) {
  Porch y;
  const Id controller = y.first<yard::Controller>(),
           port = yard::portsOf(y.document.yard(), controller)[0].first;
  edit::Editor editor(y.document.yard());
  editor.update<yard::Port>(port, [](yard::Port& p) { p.fuse = {15'000'000}; });
  y.document.commit(editor.finish("Break"));
  y.document.settle();
  y.open(controller);
  const QString said = y.found<QLabel>("usual_words").text();
  EXPECT_TRUE(said.contains(QStringLiteral("AWG"))) << said.toStdString();
  EXPECT_TRUE(said.contains(QStringLiteral("set by"))) << said.toStdString();
  const std::string before = file::bytesOf(y.document.yard());
  QPushButton& fit = y.found<QPushButton>("usual_fuse");
  ASSERT_FALSE(fit.isHidden());
  fit.click();
  y.document.settle();
  EXPECT_LT(yard::find<yard::Port>(y.document.yard(), port)->fuse.count, 15'000'000);
  EXPECT_TRUE(y.found<QPushButton>("usual_fuse").isHidden()) << "it is fitted now";
  y.document.undo();
  EXPECT_EQ(file::bytesOf(y.document.yard()), before);
}

TEST(UsualFuse, ChangesTheWireOfAFeedThatIsTooThin) {
  Porch y;
  const Id position = yard::all<yard::FusePosition>(y.document.yard()).front().first;
  const Id feed = yard::feedOnFusePosition(y.document.yard(), position);
  ASSERT_TRUE(feed);
  y.open(feed);
  EXPECT_TRUE(y.found<QPushButton>("usual_wire").isHidden()) << "the sample's feed is thick enough";
  edit::Editor editor(y.document.yard());
  yard::Wire thin;
  thin.name = "24/2";
  thin.gauge = 24;
  thin.conductors = yard::ConductorSet::PowerOnly;
  const Id thinId = editor.add(thin);
  editor.update<yard::Cable>(feed, [&](yard::Cable& c) { c.wire = thinId; });
  y.document.commit(editor.finish("Take a thin wire"));
  y.document.settle();
  QPushButton& take = y.found<QPushButton>("usual_wire");
  ASSERT_FALSE(take.isHidden());
  take.click();
  const auto* cable = yard::find<yard::Cable>(y.document.yard(), feed);
  EXPECT_TRUE(take.text().contains(
      QString::fromStdString(yard::find<yard::Wire>(y.document.yard(), cable->wire)->name)));
}

TEST(UsualFuse, IsHiddenWhereNothingIsCarried) {
  Porch y;
  ProtectionLine line(y.document);
  line.showPosition({});
  EXPECT_TRUE(line.isHidden());
  line.showPosition(y.first<yard::Box>());
  EXPECT_TRUE(line.isHidden());
}

TEST(BoxCord, IsMadeAndTakenAwayWithTheBox) {
  Porch y;
  const Id box = y.first<yard::Box>(), outlet = y.first<yard::Outlet>(), supply = y.first<yard::Supply>();
  const std::string before = file::bytesOf(y.document.yard());
  y.open(box);
  y.pick("field_box_cord_from", outlet);
  const auto boxes = routes::boxCords(y.document.yard());
  ASSERT_TRUE(boxes.cords.contains(box));
  EXPECT_EQ(boxes.cords.at(box).outlet, outlet);
  EXPECT_EQ(yard::find<yard::Supply>(y.document.yard(), supply)->outlet, outlet);
  const auto& cords = y.document.assessment()->limit.mains.cords;
  ASSERT_EQ(cords.size(), 1U);
  EXPECT_EQ(cords.begin()->first.of, boxes.cords.at(box).record);
  y.document.undo();
  EXPECT_EQ(file::bytesOf(y.document.yard()), before);
}

TEST(SupplyCord, GetsARecordWhenItIsOpened) {
  Porch y;
  const Id supply = y.first<yard::Supply>();
  y.open(supply);
  EXPECT_FALSE(y.found<QLabel>("cord_words").text().isEmpty());
  Id opened;
  QObject::connect(&y.form, &RecordForm::openAsked, [&](Id id) { opened = id; });
  y.found<QPushButton>("open_cord").click();
  const auto* cable = yard::find<yard::Cable>(y.document.yard(), opened);
  ASSERT_TRUE(cable);
  EXPECT_EQ(cable->conductors, yard::ConductorSet::Mains);
  EXPECT_EQ(cable->to.record, supply);
  y.open(opened);
  auto* pieces = y.form.findChild<QLineEdit*>(QStringLiteral("edit_pieces"));
  ASSERT_TRUE(pieces);
  pieces->setFocus();
  pieces->selectAll();
  QTest::keyClicks(pieces, QStringLiteral("3"));
  QTest::keyClick(pieces, Qt::Key_Return);
  EXPECT_EQ(yard::find<yard::Cable>(y.document.yard(), opened)->pieces, 3);
}

TEST(ItemFacts, TellHeatRatingLeakageAndEnergy) {
  Porch y;
  edit::Editor editor(y.document.yard());
  editor.update<yard::Site>(yard::siteId(y.document.yard()), [](yard::Site& s) {
    s.hoursANight = {static_cast<std::int64_t>(5 * 3600) * 1'000'000'000};
  });
  y.document.commit(editor.finish("Say the hours"));
  y.document.settle();
  const auto facts = [&](Id id) { return factsOf(y.document, {id}).join(u'\n').toStdString(); };
  EXPECT_NE(facts(y.first<yard::Supply>()).find("of heat"), std::string::npos);
  EXPECT_NE(facts(y.first<yard::Box>()).find("°C inside"), std::string::npos);
  EXPECT_NE(facts(yard::siteId(y.document.yard())).find("kWh a night"), std::string::npos);
  const auto* supply = yard::find<yard::Supply>(y.document.yard(), y.first<yard::Supply>());
  const auto* outlet = yard::find<yard::Outlet>(y.document.yard(), supply->outlet);
  EXPECT_NE(facts(outlet->circuit).find("GFCI"), std::string::npos);
  EXPECT_NE(facts(supply->outlet).find("receptacle"), std::string::npos);
}

}  // namespace yw::ui
