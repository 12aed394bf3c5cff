// Forms: several records at once, refusals at the field, ports and fuses by the number, a run's order.
#include <gtest/gtest.h>

#include <QCheckBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>
#include <QTest>

#include "core/file/yard_file.h"
#include "core/shapes/shape.h"
#include "ui/fields/pick_fields.h"
#include "ui/fields/rows_table.h"
#include "ui/panels/edits.h"
#include "ui/panels/record_form.h"

namespace yw::ui {

namespace {

using base::Id;

/// A yard with one record more for each call; every test has a document of its own.
struct Yard {
  Document document;
  RecordForm form{document};

  Yard() { document.newYard(); }
  Id add(yard::Record record) {
    edit::Editor editor(document.yard());
    const Id id = editor.add(std::move(record));
    document.commit(editor.finish("Add"));
    return id;
  }
  Id arch(const char* name, std::int64_t feet) {
    yard::Prop prop = shapes::usualProp("arch");
    prop.name = name;
    for (auto& [size, value] : prop.sizes)
      if (size == "radius") value = base::feet(feet).count;
    return add(prop);
  }
  void open(std::set<Id> ids) {
    form.setRecords(std::move(ids));
    form.show();
  }
  QLineEdit& line(const char* name) {
    auto* found = form.findChild<QLineEdit*>(QStringLiteral("edit_") + QLatin1String(name));
    EXPECT_TRUE(found) << name;
    return *found;
  }
  void enter(const char* name, const QString& text) {
    QLineEdit& edit = line(name);
    edit.setFocus();
    edit.selectAll();
    QTest::keyClicks(&edit, text);
    QTest::keyClick(&edit, Qt::Key_Return);
  }
  const std::string& lastStep() { return document.history().undoName(); }
  const yard::Prop& prop(Id id) { return *yard::find<yard::Prop>(document.yard(), id); }
};

}  // namespace

TEST(RecordForm, ReadsSeveralWhereValuesDifferAndSetsAllInOneStep) {
  Yard y;
  const Id a = y.arch("Arch 1", 6), b = y.arch("Arch 2", 8);
  y.open({a, b});
  EXPECT_TRUE(y.line("radius").text().isEmpty());
  EXPECT_EQ(y.line("radius").placeholderText(), QStringLiteral("several"));
  const std::string before = file::bytesOf(y.document.yard());
  const auto steps = y.document.history().steps().size();
  y.enter("radius", QStringLiteral("10'"));
  EXPECT_EQ(y.prop(a).sizes.at("radius"), base::feet(10).count);
  EXPECT_EQ(y.prop(b).sizes.at("radius"), base::feet(10).count);
  EXPECT_EQ(y.document.history().steps().size(), steps + 1);
  EXPECT_NE(y.lastStep().find("2 props"), std::string::npos) << y.lastStep();
  y.document.undo();
  EXPECT_EQ(file::bytesOf(y.document.yard()), before);
}

TEST(RecordForm, AddsToEachOfSeveralItsOwnValue) {
  Yard y;
  const Id a = y.arch("Arch 1", 6), b = y.arch("Arch 2", 8);
  y.open({a, b});
  y.enter("radius", QStringLiteral("+=2ft"));
  EXPECT_EQ(y.prop(a).sizes.at("radius"), base::feet(8).count);
  EXPECT_EQ(y.prop(b).sizes.at("radius"), base::feet(10).count);
}

TEST(RecordForm, RefusesASizeThatMakesNoShapeAndSaysWhyBesideIt) {
  Yard y;
  const Id a = y.arch("Arch 1", 6);
  y.open({a});
  const auto steps = y.document.history().steps().size();
  y.enter("radius", QStringLiteral("0"));
  EXPECT_EQ(y.prop(a).sizes.at("radius"), base::feet(6).count);
  EXPECT_EQ(y.document.history().steps().size(), steps);
  auto* field = y.form.findChild<TypedField*>(QStringLiteral("field_radius"));
  ASSERT_TRUE(field);
  EXPECT_FALSE(field->reason().isEmpty());
}

TEST(RecordForm, ANumberThatWasNotTouchedKeepsItsExactValue) {
  Yard y;
  yard::Box box;
  box.name = "K1";
  box.at.x.count = base::feet(3).count + 12'345;  // finer than what is shown
  const Id id = y.add(box);
  y.open({id});
  QLineEdit& x = y.line("at_x");
  x.setFocus();
  QTest::keyClick(&x, Qt::Key_Return);
  QTest::keyClick(&x, Qt::Key_Tab);
  EXPECT_EQ(yard::find<yard::Box>(y.document.yard(), id)->at.x.count, base::feet(3).count + 12'345);
}

TEST(RecordForm, UnitsChangeWhatIsShownNotWhatIsStored) {
  Yard y;
  const Id a = y.arch("Arch 1", 6);
  y.open({a});
  const QString feet = y.line("radius").text();
  editRecord<yard::Settings>(y.document, yard::settingsId(y.document.yard()), QStringLiteral("Change units"),
                             [](yard::Settings& s) { s.units = base::UnitSystem::Metric; });
  EXPECT_NE(y.line("radius").text(), feet);
  EXPECT_EQ(y.prop(a).sizes.at("radius"), base::feet(6).count);
}

TEST(RecordForm, GivesAControllerPortsByTheirNumberInOneStep) {
  Yard y;
  yard::Controller controller;
  controller.name = "C1";
  const Id id = y.add(controller);
  y.open({id});
  y.enter("port_count", QStringLiteral("16"));
  ASSERT_EQ(yard::portsOf(y.document.yard(), id).size(), 16u);
  EXPECT_EQ(yard::portsOf(y.document.yard(), id).back().second->number, 16);
  y.enter("port_count", QStringLiteral("4"));
  EXPECT_EQ(yard::portsOf(y.document.yard(), id).size(), 4u);
  y.document.undo();
  EXPECT_EQ(yard::portsOf(y.document.yard(), id).size(), 16u);
  y.enter("port_count", QStringLiteral("-1"));
  EXPECT_EQ(yard::portsOf(y.document.yard(), id).size(), 16u);
}

TEST(RecordForm, EditsAFuseInItsTable) {
  Yard y;
  yard::Supply supply;
  const Id id = y.add(supply);
  y.open({id});
  y.enter("fuse_count", QStringLiteral("3"));
  auto* rows = y.form.findChild<RowsTable*>(QStringLiteral("rows_fuses"));
  ASSERT_TRUE(rows);
  rows->commitText(1, 2, QStringLiteral("7.5 A"));
  EXPECT_EQ(yard::fusePositionsOf(y.document.yard(), id)[1].second->fuse.count, 7'500'000);
  rows->commitText(1, 2, QStringLiteral("a big one"));
  EXPECT_FALSE(rows->reason().isEmpty());
  EXPECT_EQ(yard::fusePositionsOf(y.document.yard(), id)[1].second->fuse.count, 7'500'000);
}

TEST(RecordForm, TurnsMovesAndCutsWhatARunStringsTogether) {
  Yard y;
  const Id a = y.arch("Arch 1", 6), b = y.arch("Arch 2", 6);
  yard::Run run;
  run.name = "Run 1";
  run.items.resize(2);
  run.items[0].prop = a;
  run.items[1].prop = b;
  const Id id = y.add(run);
  y.open({id});
  auto* rows = y.form.findChild<RowsTable*>(QStringLiteral("rows_run_items"));
  ASSERT_TRUE(rows);
  const auto press = [&](const char* name) {
    auto* button = y.form.findChild<QPushButton*>(QLatin1String(name));
    ASSERT_TRUE(button) << name;
    button->click();
  };
  const auto items = [&] { return yard::find<yard::Run>(y.document.yard(), id)->items; };
  rows->setCurrentRow(1);
  press("item_turn");
  EXPECT_TRUE(items()[1].reversed);
  press("item_up");
  EXPECT_EQ(items()[0].prop, b);
  EXPECT_EQ(rows->currentRow(), 0);
  press("item_null");
  ASSERT_EQ(items().size(), 3u);
  EXPECT_EQ(items()[0].kind, yard::RunItemKind::NullPixel);
  rows->setCurrentRow(2);
  press("item_cut");
  EXPECT_EQ(items().size(), 2u);
  EXPECT_EQ(yard::all<yard::Run>(y.document.yard()).size(), 2u);
  EXPECT_EQ(y.lastStep().rfind("Cut ", 0), 0u) << y.lastStep();
}

TEST(RecordForm, KeepsAnAddressAsIsAndLetsGoOfIt) {
  Yard y;
  yard::Run run;
  run.name = "Run 1";
  const Id id = y.add(run);
  y.open({id});
  auto* keep = y.form.findChild<QCheckBox*>(QStringLiteral("keep_address"));
  ASSERT_TRUE(keep);
  keep->click();
  const auto kept = yard::all<yard::KeepAsIs>(y.document.yard());
  ASSERT_EQ(kept.size(), 1u);
  EXPECT_EQ(kept.front().second->subject, id);
  EXPECT_EQ(kept.front().second->what, "address");
  keep->click();
  EXPECT_TRUE(yard::all<yard::KeepAsIs>(y.document.yard()).empty());
}

TEST(RecordForm, APropHungOnAWallKeepsItsPlaceAlongIt) {
  Yard y;
  yard::Wall wall;
  wall.name = "Front";
  wall.from = {base::feet(10), base::feet(0)};
  wall.to = {base::feet(40), base::feet(0)};
  const Id hung = y.add(wall);
  const Id a = y.arch("Arch 1", 6);
  editRecord<yard::Prop>(y.document, a, QStringLiteral("Move"), [](yard::Prop& p) {
    p.at = {base::feet(22), base::feet(-3)};
  });
  y.open({a});
  auto* field = y.form.findChild<ReferenceField*>(QStringLiteral("field_wall"));
  ASSERT_TRUE(field);
  const int index = field->combo()->findData(QVariant::fromValue<qlonglong>(hung.value));
  ASSERT_GE(index, 0);
  field->combo()->setCurrentIndex(index);
  Q_EMIT field->combo()->activated(index);
  EXPECT_EQ(y.prop(a).wall, hung);
  EXPECT_NEAR(base::metres(y.prop(a).at.x).si, base::metres(base::feet(12)).si, 1e-6);
}

TEST(RecordForm, AControllerAddedToABoxTakesItsPowerThere) {
  Yard y;
  yard::Box elsewhere, box;
  elsewhere.name = "K1";
  box.name = "K2";
  const Id other = y.add(elsewhere), here = y.add(box);
  yard::Supply supply;
  supply.box = here;
  const Id ours = y.add(supply);
  supply.box = other;
  y.add(supply);
  y.open({here});
  auto* add = y.form.findChild<QPushButton*>(QStringLiteral("add_controller"));
  ASSERT_TRUE(add);
  add->click();
  const auto controllers = yard::all<yard::Controller>(y.document.yard());
  ASSERT_EQ(controllers.size(), 1u);
  EXPECT_EQ(controllers.front().second->box, here);
  ASSERT_FALSE(controllers.front().second->sections.empty());
  EXPECT_EQ(controllers.front().second->sections.front().supply, ours);
}

}  // namespace yw::ui
