// Every dialog in both looks: nothing cut, everything named, a hand's size; small enough for a small screen.
// With YARDWRIGHT_PICTURES set to a folder each is saved there, to be looked at; QT_SCALE_FACTOR sets the
// scale.
#include <gtest/gtest.h>

#include <QDialog>
#include <QDir>
#include <QTest>
#include <functional>

#include "tests/ui/canvas/pictures.h"
#include "tests/ui/whole_and_named.h"
#include "ui/dialogs/find_dialog.h"
#include "ui/dialogs/gear_dialog.h"
#include "ui/dialogs/hand_dialog.h"
#include "ui/dialogs/list_dialog.h"
#include "ui/dialogs/measured_dialog.h"
#include "ui/dialogs/my_props_dialog.h"
#include "ui/dialogs/outline_dialog.h"
#include "ui/dialogs/own_dialogs.h"
#include "ui/dialogs/plan_dialog.h"
#include "ui/dialogs/print_dialog.h"
#include "ui/dialogs/row_dialog.h"
#include "ui/dialogs/trade_off_dialog.h"
#include "ui/fields/look.h"
#include "ui/panels/measured.h"

namespace yw::ui {
namespace {

constexpr QSize kSmallScreen(910, 512);  // logical, 1366 x 768 at 1.5

using Made = std::function<QDialog*(Document&)>;
struct Kind {
  const char* name;
  Made make;
};

base::Id ownProp(Document& document) {
  for (const auto& [id, prop] : yard::all<yard::Prop>(document.yard()))
    if (prop->kind == "own") return id;
  edit::Editor editor(document.yard());
  const base::Id id = editor.add(shapes::usualProp("own"));
  document.commit(editor.finish("own"));
  return id;
}
base::Id anyProp(Document& document) { return yard::all<yard::Prop>(document.yard()).front().first; }

QDialog* measured(Document& document) {
  const base::Id supply = yard::all<yard::Supply>(document.yard()).front().first;
  return new MeasuredDialog(document, measuringPlaces(document.yard(), supply));
}

const std::vector<Kind> kKinds{
    {"find", [](Document& d) { return new FindDialog(d, nullptr); }},
    {"gear_supply", [](Document& d) { return new GearDialog(d, yard::RecordKind::Supply, nullptr); }},
    {"gear_controller", [](Document& d) { return new GearDialog(d, yard::RecordKind::Controller, nullptr); }},
    {"gear_receiver", [](Document& d) { return new GearDialog(d, yard::RecordKind::Receiver, nullptr); }},
    {"gear_circuit", [](Document& d) { return new GearDialog(d, yard::RecordKind::HouseCircuit, nullptr); }},
    {"gear_pixel", [](Document& d) { return new GearDialog(d, yard::RecordKind::Product, nullptr); }},
    {"gear_wire", [](Document& d) { return new GearDialog(d, yard::RecordKind::Wire, nullptr); }},
    {"hand", [](Document&) { return new HandDialog(HandRules{}, base::UnitSystem::FeetInches, nullptr); }},
    {"list", [](Document& d) { return new ListDialog(d); }},
    {"measured", measured},
    {"my_props", [](Document& d) { return new MyPropsDialog(d, {}); }},
    {"outlines", [](Document& d) { return new OutlineDialog(d); }},
    {"import", [](Document& d) { return new ImportDialog(d, ownProp(d)); }},
    {"order", [](Document& d) { return new OrderDialog(d, ownProp(d)); }},
    {"plan", [](Document& d) { return new PlanDialog(d, nullptr); }},
    {"print", [](Document& d) { return new PrintDialog(d, nullptr); }},
    {"row", [](Document& d) { return new RowDialog(d, anyProp(d)); }},
    {"trade_off", [](Document& d) { return new TradeOffDialog(d, nullptr); }}};

TEST(EveryDialog, NothingIsCutAllIsNamedAndFitsASmallScreen) {
  lookAsTheProgram();
  const QString folder = qEnvironmentVariable("YARDWRIGHT_PICTURES");
  for (const Theme::Look look : {Theme::Look::Light, Theme::Look::Dusk}) {
    setLook(look);
    for (const Kind& kind : kKinds) {
      SCOPED_TRACE(kind.name);
      Document document;
      ASSERT_TRUE(document.open(samplePath("porch-and-lawn.yard")));
      document.settle();
      const std::unique_ptr<QDialog> dialog(kind.make(document));
      dialog->show();
      QTest::qWait(20);
      expectNothingCut(*dialog);
      expectNamedAndForAHand(*dialog);
      EXPECT_FALSE(dialog->windowTitle().isEmpty());
      EXPECT_LE(dialog->minimumSizeHint().width(), kSmallScreen.width());
      EXPECT_LE(dialog->minimumSizeHint().height(), kSmallScreen.height());
      if (!folder.isEmpty())
        dialog->grab().save(QDir(folder).filePath(
            QStringLiteral("dialog_%1_%2.png")
                .arg(QLatin1String(kind.name),
                     look == Theme::Look::Dusk ? QStringLiteral("dusk") : QStringLiteral("light"))));
    }
  }
  setLook(Theme::Look::Light);
}

}  // namespace
}  // namespace yw::ui
