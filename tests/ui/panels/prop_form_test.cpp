// What a prop's form does beyond its plain fields: sizes from what one has, rows that change together.
#include <gtest/gtest.h>

#include <QCheckBox>
#include <QComboBox>
#include <QCoreApplication>
#include <QLabel>
#include <QLineEdit>
#include <QListWidget>
#include <QPushButton>
#include <QTableWidget>
#include <QTemporaryDir>
#include <QTest>
#include <fstream>

#include "core/file/yard_file.h"
#include "core/shapes/rows.h"
#include "ui/canvas/row_edits.h"
#include "ui/dialogs/list_dialog.h"
#include "ui/dialogs/my_props_dialog.h"
#include "ui/dialogs/own_dialogs.h"
#include "ui/dialogs/row_dialog.h"
#include "ui/dialogs/string_picture.h"
#include "ui/fields/small_widgets.h"
#include "ui/fields/typed_field.h"
#include "ui/panels/edits.h"
#include "ui/panels/record_form.h"

namespace yw::ui {

namespace {

using base::Id;

struct Bench {
  Document document;
  RecordForm form{document};
  Bench() { document.newYard(); }
  Id add(yard::Record record) {
    edit::Editor editor(document.yard());
    const Id id = editor.add(std::move(record));
    document.commit(editor.finish("Add"));
    return id;
  }
  Id prop(const char* kind, const char* name) {
    yard::Prop made = shapes::usualProp(kind);
    made.name = name;
    return add(made);
  }
  std::vector<Id> row(Id first, std::int64_t count) {
    edit::Editor editor(document.yard());
    const auto all = edits::layOut(editor, first,
                                   shapes::inLine({{0}, {0}}, {base::feet(30), {0}}, count, base::Angle{0}));
    document.commit(editor.finish("Row"));
    return all;
  }
  void open(std::set<Id> ids) {
    form.setRecords(std::move(ids));
    QCoreApplication::sendPostedEvents(nullptr, QEvent::DeferredDelete);  // the form before it
    form.show();
  }
  const yard::Prop& at(Id id) { return *yard::find<yard::Prop>(document.yard(), id); }
  std::size_t pixels(Id id) { return shapes::make(at(id))->pixels.size(); }
  std::size_t steps() { return document.history().steps().size(); }
};

template <class W>
W& in(QWidget& parent, const char* name) {
  auto* found = parent.findChild<W*>(QLatin1String(name));
  EXPECT_TRUE(found) << name;
  return *found;
}

void enter(QWidget& parent, const char* name, const QString& text) {
  auto& edit = in<QLineEdit>(parent, name);
  edit.setFocus();
  edit.selectAll();
  QTest::keyClicks(&edit, text);
  QTest::keyClick(&edit, Qt::Key_Return);
}

void pick(QComboBox& combo, int index) {
  combo.setCurrentIndex(index);
  Q_EMIT combo.activated(index);
}

}  // namespace

TEST(FitPart, ProposesSizesThatKeepTheBudgetAndTakesOneInOneStep) {
  Bench b;
  const Id tree = b.prop("cone_tree", "Tree");
  b.open({tree});
  in<QPushButton>(b.form, "fit_open").click();
  enter(b.form, "edit_fit_pixels", QStringLiteral("300"));
  QList<QPushButton*> offers;
  for (QPushButton* button : b.form.findChildren<QPushButton*>())
    if (button->objectName().startsWith(QStringLiteral("fit_take_")) && button->isVisibleTo(&b.form) &&
        button->isEnabled())  // one that cannot be built is said, not offered
      offers << button;
  ASSERT_GE(offers.size(), 2);
  const std::string before = file::bytesOf(b.document.yard());
  const auto steps = b.steps();
  for (int k = 0; k < offers.size(); ++k) {
    const QString said = offers[k]->text();
    offers[k]->click();
    EXPECT_LE(b.pixels(tree), 300u) << said.toStdString();
    EXPECT_TRUE(said.contains(QString::number(b.pixels(tree)))) << said.toStdString();
    b.document.undo();
    EXPECT_EQ(file::bytesOf(b.document.yard()), before);
  }
  EXPECT_EQ(b.steps() - steps, 1u) << "each was one step, taken back";
}

// What a size comes to nothing by is not asked for; its choice brings it back.
TEST(PropForm, AsksOnlyForSizesThatCount) {
  Bench b;
  const Id arch = b.prop("arch", "Arch");
  b.open({arch});
  const auto shown = [&](const char* field) { return in<QWidget>(b.form, field).isVisibleTo(&b.form); };
  EXPECT_TRUE(shown("field_radius"));
  EXPECT_FALSE(shown("field_pipe"));
  EXPECT_FALSE(shown("field_feet"));
  EXPECT_FALSE(shown("field_hoop_step"));
  enter(b.form, "edit_hoops", QStringLiteral("2"));
  EXPECT_TRUE(shown("field_hoop_step"));
  edit::Editor editor(b.document.yard());
  editor.update<yard::Prop>(arch, [](yard::Prop& p) { p.choices["curve"] = "pipe"; });
  b.document.commit(editor.finish("Curve"));
  b.open({arch});
  EXPECT_FALSE(shown("field_radius"));
  EXPECT_TRUE(shown("field_pipe"));
  EXPECT_TRUE(shown("field_feet"));
}

// Every bad size is refused in words at the field where it is typed, and nothing is changed.
TEST(PropForm, RefusesBadSizesInWordsAtTheField) {
  const struct {
    const char *kind, *field;
    const char *typed, *says;
  } cases[] = {
      {"ring", "diameter", "0", "Diameter: 0″ is too small"},
      {"ring", "pitch", "-2", "Pitch: −2″ is too small"},
      {"cone_tree", "strips", "0", "Strips: 0 is too small"},
      {"concentric_rings", "inner_radius", "30in", "must be smaller than the outer one"},
      {"star", "inner_level_radius", "30in", "must be smaller than the outer one"},
      {"cone_tree", "top_diameter", "2in", "Topper too small"},
      {"cone_tree", "strips", "40", "Topper too small"},
      {"straight_strip", "pitch", "9ft", "No pixel fits"},
      {"mesh_panel", "width", "1in", "No pixel fits"},
      {"cone_tree", "strips", "1000000000", "too large"},
      {"cone_tree", "pitch", "0.001in", "too small"},
      {"mesh_panel", "width", "900ft", "one prop can have"},
      {"ring", "diameter", "five", ""},
  };
  for (const auto& c : cases) {
    Bench b;
    b.open({b.prop(c.kind, "It")});
    const std::string before = file::bytesOf(b.document.yard());
    enter(b.form, (std::string("edit_") + c.field).c_str(), QString::fromUtf8(c.typed));
    const QString reason = in<TypedField>(b.form, (std::string("field_") + c.field).c_str()).reason();
    EXPECT_FALSE(reason.isEmpty()) << c.kind << ' ' << c.field << ' ' << c.typed;
    EXPECT_TRUE(reason.contains(QString::fromUtf8(c.says)))
        << c.kind << ' ' << c.field << ": " << reason.toStdString();
    EXPECT_EQ(file::bytesOf(b.document.yard()), before) << c.kind << ' ' << c.field << ' ' << c.typed;
  }
}

TEST(FitPart, FillsWhatAPortStillTakes) {
  Bench b;
  yard::Controller controller;
  controller.name = "C1";
  controller.pixelsPerPort = 120;
  const Id owner = b.add(controller);
  yard::Port port;
  port.owner = owner;
  port.number = 1;
  b.add(port);
  const Id arch = b.prop("arch", "Arch");
  b.open({arch});
  in<QPushButton>(b.form, "fit_open").click();
  pick(in<QComboBox>(b.form, "fit_what"), 3);
  in<QPushButton>(b.form, "fit_take_pitch").click();
  EXPECT_LE(b.pixels(arch), 120u);
  EXPECT_GE(b.pixels(arch), 110u);
}

TEST(FitPart, SaysWhyNothingFits) {
  Bench b;
  const Id tree = b.prop("cone_tree", "Tree");
  b.open({tree});
  in<QPushButton>(b.form, "fit_open").click();
  enter(b.form, "edit_fit_pixels", QStringLiteral("0"));
  EXPECT_FALSE(in<TypedField>(b.form, "field_fit_pixels").reason().isEmpty());
  pick(in<QComboBox>(b.form, "fit_what"), 3);
  EXPECT_FALSE(in<QLabel>(b.form, "fit_why").text().isEmpty());
}

TEST(Row, OneChangeAltersAllUntilOneIsSetOnItsOwn) {
  Bench b;
  const auto row = b.row(b.prop("arch", "Arch 1"), 4);
  ASSERT_EQ(row.size(), 4u);
  b.open({row[0]});
  enter(b.form, "edit_radius", QStringLiteral("5'"));
  for (const Id id : row) EXPECT_EQ(b.at(id).sizes.at("radius"), base::feet(5).count);
  b.open({row[2]});
  in<QCheckBox>(b.form, "row_own").click();
  b.open({row[1]});
  const auto steps = b.steps();
  enter(b.form, "edit_radius", QStringLiteral("3'"));
  EXPECT_EQ(b.steps(), steps + 1);
  EXPECT_EQ(b.at(row[0]).sizes.at("radius"), base::feet(3).count);
  EXPECT_EQ(b.at(row[2]).sizes.at("radius"), base::feet(5).count);
  b.document.undo();
  EXPECT_EQ(b.at(row[3]).sizes.at("radius"), base::feet(5).count);
}

TEST(Row, DialogLaysOutToExactFiguresInOneStep) {
  Bench b;
  const Id arch = b.prop("arch", "Arch 1");
  const std::string before = file::bytesOf(b.document.yard());
  {
    RowDialog dialog(b.document, arch);
    dialog.show();
    enter(dialog, "edit_row_count", QStringLiteral("5"));
    enter(dialog, "edit_row_length", QStringLiteral("40'"));
    EXPECT_EQ(yard::all<yard::Prop>(b.document.shownYard()).size(), 5u) << "shown while typed";
    EXPECT_EQ(yard::all<yard::Prop>(b.document.yard()).size(), 1u);
    dialog.accept();
  }
  const auto props = yard::all<yard::Prop>(b.document.yard());
  ASSERT_EQ(props.size(), 5u);
  for (std::size_t k = 0; k < 5; ++k) {
    EXPECT_EQ(props[k].second->name, "Arch " + std::to_string(k + 1));
    EXPECT_EQ((props[k].second->at.x - b.at(arch).at.x).count,
              base::feet(10).count * static_cast<std::int64_t>(k));
  }
  EXPECT_EQ(b.document.selection().ids().size(), 5u);
  b.document.undo();
  EXPECT_TRUE(file::bytesOf(b.document.yard()) == before);
}

TEST(Row, DialogKeepsTheFirstOfAnArcInPlaceAndGoesAlongAWalk) {
  Bench b;
  const Id arch = b.prop("arch", "Arch 1");
  yard::GroundFeature walk;
  walk.name = "Front walk";
  walk.outline = {{{0}, {0}}, {base::feet(30), {0}}};
  b.add(walk);
  {
    RowDialog dialog(b.document, arch);
    auto& layout = in<QComboBox>(dialog, "row_layout");
    pick(layout, 2);
    const auto* shown = yard::find<yard::Prop>(b.document.shownYard(), arch);
    EXPECT_NEAR(base::metres(shown->at.x).si, 0, 1e-6);
    EXPECT_NEAR(base::metres(shown->at.y).si, 0, 1e-6);
    EXPECT_EQ(shown->heading.count % 360'000'000, 0);
    pick(layout, 3);
    dialog.accept();
  }
  const auto props = yard::all<yard::Prop>(b.document.yard());
  ASSERT_EQ(props.size(), 3u);
  EXPECT_EQ(props[2].second->at.x.count, base::feet(30).count);
}

TEST(Row, TopsComeLevelByTheSpotHeights) {
  Bench b;
  const auto row = b.row(b.prop("arch", "Arch 1"), 3);
  for (const auto& [x, y, up] : {std::tuple{0, 0, 0}, {30, 0, 2}, {0, 10, 0}}) {
    yard::SpotHeight spot;
    spot.at = {base::feet(x), base::feet(y)};
    spot.height = base::feet(up);
    b.add(spot);
  }
  b.open({row[0]});
  EXPECT_TRUE(in<QLabel>(b.form, "row_levels").text().contains(QStringLiteral("2′")));
  in<QPushButton>(b.form, "row_level").click();
  EXPECT_NEAR(base::metres(b.at(row[0]).base).si, base::metres(base::feet(2)).si, 1e-6);
  EXPECT_NEAR(base::metres(b.at(row[1]).base).si, base::metres(base::feet(1)).si, 1e-6);
  EXPECT_NEAR(base::metres(b.at(row[2]).base).si, 0, 1e-6);
}

TEST(OwnShape, BringsInATableOfPointsWithItsUnitInOneStep) {
  Bench b;
  const Id own = b.prop("own", "Fish");
  QTemporaryDir folder;
  const std::string path = folder.filePath(QStringLiteral("fish.csv")).toStdString();
  std::ofstream(path) << "x,y\n0,0\n10,0\n10,10\n0,10\n";
  const auto steps = b.steps();
  ImportDialog dialog(b.document, own);
  EXPECT_FALSE(in<QPushButton>(dialog, "import_take").isEnabled());
  dialog.setFile(QString::fromStdString(path + "x"));
  EXPECT_FALSE(in<QLabel>(dialog, "import_reason").text().isEmpty());
  dialog.setFile(QString::fromStdString(path));
  pick(in<QComboBox>(dialog, "import_unit"), 0);
  EXPECT_TRUE(in<QLabel>(dialog, "import_said").text().contains(QStringLiteral("4 pixels")));
  dialog.accept();
  EXPECT_EQ(b.pixels(own), 4u);
  EXPECT_EQ(shapes::make(b.at(own))->width.count, base::inches(10).count);
  EXPECT_EQ(b.steps(), steps + 1);
}

TEST(OwnShape, DraggingAPixelStringsItElsewhere) {
  Bench b;
  yard::Prop made = shapes::usualProp("own");
  made.lines = {
      {{{{0}, {0}}, {base::feet(1), {0}}, {base::feet(2), {0}}, {base::feet(3), {0}}}, false, true}};
  const Id own = b.add(made);
  OrderDialog dialog(b.document, own);
  dialog.show();
  auto& picture = in<StringPicture>(dialog, "string_picture");
  const QPoint from = picture.placeOf(3).toPoint(), to = picture.placeOf(0).toPoint();
  QTest::mousePress(&picture, Qt::LeftButton, {}, from);
  QTest::mouseMove(&picture, (from + to) / 2);
  QTest::mouseRelease(&picture, Qt::LeftButton, {}, to);
  EXPECT_EQ(dialog.order(), (std::vector<std::size_t>{3, 0, 1, 2}));
  dialog.accept();
  EXPECT_EQ(b.at(own).stringOrder, (std::vector<std::int64_t>{4, 1, 2, 3}));
  OrderDialog again(b.document, own);
  EXPECT_EQ(again.order(), (std::vector<std::size_t>{3, 0, 1, 2}));
  in<QPushButton>(again, "order_drawn").click();
  again.accept();
  EXPECT_TRUE(b.at(own).stringOrder.empty());
}

TEST(MyProps, KeptFromOneYardArePutIntoAnother) {
  QTemporaryDir folder;
  const QByteArray before = qgetenv("XDG_DATA_HOME");
  qputenv("XDG_DATA_HOME", folder.path().toUtf8());
  {
    Bench first;
    QString said;
    QObject::connect(&first.document, &Document::said, [&](const QString& line) { said = line; });
    keepAsMine(first.document, first.prop("star", "Porch star"));
    EXPECT_TRUE(said.contains(QStringLiteral("Porch star"))) << said.toStdString();
  }
  Bench next;
  MyPropsDialog dialog(next.document, {base::feet(5), base::feet(6)});
  ASSERT_EQ(in<QListWidget>(dialog, "my_props_list").count(), 1);
  in<QPushButton>(dialog, "my_props_put").click();
  const auto props = yard::all<yard::Prop>(next.document.yard());
  ASSERT_EQ(props.size(), 1u);
  EXPECT_EQ(props.front().second->name, "Porch star");
  EXPECT_EQ(props.front().second->at.y, base::feet(6));
  in<QPushButton>(dialog, "my_props_forget").click();
  EXPECT_EQ(in<QListWidget>(dialog, "my_props_list").count(), 0);
  EXPECT_FALSE(in<QPushButton>(dialog, "my_props_put").isEnabled());
  before.isEmpty() ? qunsetenv("XDG_DATA_HOME") : qputenv("XDG_DATA_HOME", before);
}

TEST(LastYearsList, ShowsWhatBecomesOfEachRowAndTakesThemInOneStep) {
  Bench b;
  ListDialog dialog(b.document);
  auto& take = in<QPushButton>(dialog, "list_take");
  EXPECT_FALSE(take.isEnabled());
  dialog.setText(QStringLiteral("Thing\tSort\tPixels\nArch A\tarch\t50\nMoon\tblimp\t50\n"));
  EXPECT_FALSE(take.isEnabled()) << "no column names the prop";
  dialog.setColumn(0, propose::ListColumn::Prop);
  dialog.setColumn(1, propose::ListColumn::Kind);
  auto& table = in<QTableWidget>(dialog, "list_table");
  ASSERT_EQ(table.rowCount(), 3);
  EXPECT_EQ(table.item(1, 3)->text(), QStringLiteral("taken"));
  EXPECT_TRUE(table.item(2, 3)->text().contains(QStringLiteral("blimp")));
  const std::string before = file::bytesOf(b.document.yard());
  ASSERT_TRUE(take.isEnabled());
  dialog.accept();
  EXPECT_EQ(yard::all<yard::Prop>(b.document.yard()).size(), 1u);
  EXPECT_EQ(b.document.selection().ids().size(), 1u);
  b.document.undo();
  EXPECT_TRUE(file::bytesOf(b.document.yard()) == before);
}

TEST(PropForm, TellsDropsOfAHungLineAndStripsOfATreeOnASlope) {
  Bench b;
  const Id line = b.prop("hung_line", "Line"), tree = b.prop("cone_tree", "Tree");
  for (const auto& [x, y, up] : {std::tuple{-10, -10, 0}, {10, -10, 0}, {0, 10, 2}}) {
    yard::SpotHeight spot;
    spot.at = {base::feet(x), base::feet(y)};
    spot.height = base::feet(up);
    b.add(spot);
  }
  b.document.settle();
  b.open({line});
  EXPECT_TRUE(in<QLabel>(b.form, "prop_facts").text().contains(QStringLiteral("Drops that hang it so")));
  b.open({tree});
  const QString facts = in<QLabel>(b.form, "prop_facts").text();
  EXPECT_TRUE(facts.contains(QStringLiteral("parallel to this ground"))) << facts.toStdString();
  EXPECT_TRUE(facts.contains(QStringLiteral("8 legs"))) << facts.toStdString();
}

TEST(PropForm, TakesOrRefusesEverySizeOfEveryKindInWordsAtItsField) {
  std::size_t refused = 0;
  for (const shapes::Kind& kind : shapes::kinds()) {
    Bench b;
    const Id id = b.prop(kind.name.c_str(), "Thing");
    b.open({id});
    for (const shapes::SizeInfo& size : kind.sizes)
      for (const char* typed : {"0", "-1", "1000000000"}) {
        const auto before = b.at(id);
        const auto name = "edit_" + size.name, field = "field_" + size.name;
        enter(b.form, name.c_str(), QString::fromLatin1(typed));
        const bool said = !in<TypedField>(b.form, field.c_str()).reason().isEmpty();
        if (said) {
          ++refused;
          EXPECT_EQ(b.at(id), before) << kind.name << " " << size.name << " " << typed;
          QTest::keyClick(&in<QLineEdit>(b.form, name.c_str()), Qt::Key_Escape);
        } else {
          EXPECT_TRUE(shapes::make(b.at(id))) << kind.name << " " << size.name << " " << typed;
          if (b.at(id) != before) b.document.undo();
        }
      }
  }
  EXPECT_GT(refused, 300u);
}

TEST(Bar, IsNotShownWithoutAFigure) {
  QWidget card;
  auto* none = new BarWidget(&card);
  auto* some = new BarWidget(&card);
  none->setFigures({}, {}, 1.0);
  some->setFigures(QStringLiteral("9 V"), QStringLiteral("10 V"), 1.1);
  EXPECT_FALSE(none->isVisibleTo(&card));
  EXPECT_TRUE(some->isVisibleTo(&card));
}

}  // namespace yw::ui
