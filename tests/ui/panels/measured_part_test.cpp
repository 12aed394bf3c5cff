// Values that were measured: written down at a pixel or a port, put right, taken out, shown on the chart.
#include <gtest/gtest.h>

#include <QComboBox>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QTableWidget>

#include "core/file/yard_file.h"
#include "ui/dialogs/measured_dialog.h"
#include "ui/fields/rows_table.h"
#include "ui/fields/typed_field.h"
#include "ui/panels/measured_part.h"
#include "ui/panels/run_chart.h"

namespace yw::ui {

namespace {

using base::Id;

struct Porch {
  Document document;
  Id run;
  Porch() {
    EXPECT_TRUE(document.open(QStringLiteral(YARDWRIGHT_ROOT "/sample-yards/porch-and-lawn.yard")));
    document.settle();
    run = yard::all<yard::Run>(document.yard()).front().first;
  }
  std::vector<MeasuringPlace> places(std::int64_t place) const {
    return measuringPlaces(*document.assessment(), document.yard(), run, place);
  }
  yard::Measurement at(std::int64_t place, std::int64_t microvolts) const {
    yard::Measurement m;
    m.at = places(place).front().at;
    m.volts = {microvolts};
    m.brightness = yard::settings(document.yard()).brightnessLimit;
    m.date = "2026-11-20";
    return m;
  }
  std::size_t count() const { return yard::all<yard::Measurement>(document.yard()).size(); }
};

void type(const QWidget& in, const char* field, const QString& text) {
  auto* edit = in.findChild<QLineEdit*>(QStringLiteral("edit_measured_") + QLatin1String(field));
  ASSERT_TRUE(edit) << field;
  edit->setText(text);
  edit->setModified(true);
}

}  // namespace

TEST(MeasuredDialog, TakesWholeFiguresOnly) {
  Porch y;
  MeasuredDialog dialog(y.document, y.places(3));
  EXPECT_EQ(dialog.value().brightness, yard::settings(y.document.yard()).brightnessLimit);
  dialog.accept();
  EXPECT_NE(dialog.result(), QDialog::Accepted) << "neither volts nor amps";
  EXPECT_FALSE(dialog.findChild<QLabel*>(QStringLiteral("measured_reason"))->text().isEmpty());
  type(dialog, "volts", QStringLiteral("11.4 or so"));
  dialog.accept();
  EXPECT_NE(dialog.result(), QDialog::Accepted);
  type(dialog, "volts", QStringLiteral("11.42"));
  type(dialog, "amps", QStringLiteral("0.75"));
  type(dialog, "date", QStringLiteral("2026-11-20"));
  dialog.accept();
  EXPECT_EQ(dialog.result(), QDialog::Accepted);
  const yard::Measurement& value = dialog.value();
  EXPECT_EQ(value.volts.count, 11'420'000);
  EXPECT_EQ(value.amps.count, 750'000);
  EXPECT_EQ(value.date, "2026-11-20");
  EXPECT_EQ(value.at.kind, yard::TerminalKind::PropPixel);
  const auto& pixel = y.document.assessment()->layouts.at(y.run)->pixels[2];
  EXPECT_EQ(value.at.record, pixel.prop);
  EXPECT_EQ(value.at.pixel, pixel.pixel);
}

TEST(MeasuredDialog, OffersThePortBesideThePixel) {
  Porch y;
  const auto places = y.places(1);
  ASSERT_GE(places.size(), 2U);
  EXPECT_EQ(places[1].at.kind, yard::TerminalKind::Port);
  MeasuredDialog dialog(y.document, places);
  dialog.findChild<QComboBox*>(QStringLiteral("measured_where"))->setCurrentIndex(1);
  type(dialog, "amps", QStringLiteral("1.25"));
  dialog.accept();
  EXPECT_EQ(dialog.value().at, places[1].at);
}

TEST(Measured, IsOneNamedStepAndUndoes) {
  Porch y;
  const std::string before = file::bytesOf(y.document.yard());
  writeDown(y.document, y.at(3, 11'420'000));
  EXPECT_EQ(y.count(), 1U);
  const QString name = QString::fromStdString(y.document.history().undoName());
  EXPECT_TRUE(name.contains(QStringLiteral("11.4"))) << name.toStdString();
  EXPECT_TRUE(name.contains(QStringLiteral("pixel"))) << name.toStdString();
  y.document.undo();
  EXPECT_EQ(file::bytesOf(y.document.yard()), before);
}

TEST(MeasuredPart, ListsPutsRightAndTakesOut) {
  Porch y;
  writeDown(y.document, y.at(5, 11'300'000));
  writeDown(y.document, y.at(2, 11'500'000));
  y.document.settle();
  MeasuredPart part(y.document, {y.run}, nullptr);
  ASSERT_EQ(part.rows()->table()->rowCount(), 2);
  EXPECT_EQ(part.rows()->value(0, 1), yard::FieldValue(std::int64_t{11'500'000})) << "in their order";
  part.rows()->commitText(0, 1, QStringLiteral("11.61"));
  part.refresh();
  EXPECT_EQ(part.rows()->value(0, 1), yard::FieldValue(std::int64_t{11'610'000}));
  part.rows()->commitText(0, 1, QStringLiteral("0"));
  EXPECT_FALSE(part.rows()->reason().isEmpty()) << "volts or amps are needed";
  part.rows()->setCurrentRow(1);
  part.findChild<QPushButton*>(QStringLiteral("remove_measured"))->click();
  part.refresh();
  EXPECT_EQ(part.rows()->table()->rowCount(), 1);
  EXPECT_EQ(y.count(), 1U);
  y.document.undo();
  EXPECT_EQ(y.count(), 2U);
}

TEST(MeasuredPart, OfASupplyListsItsTerminalsAndFuses) {
  Porch y;
  const Id supply = yard::all<yard::Supply>(y.document.yard()).front().first;
  const auto places = measuringPlaces(y.document.yard(), supply);
  ASSERT_FALSE(places.empty());
  yard::Measurement m;
  m.at = places.front().at;
  m.volts = {12'050'000};
  writeDown(y.document, m);
  MeasuredPart part(y.document, {supply}, nullptr);
  EXPECT_EQ(part.rows()->table()->rowCount(), 1);
  MeasuredPart other(y.document, {y.run}, nullptr);
  EXPECT_EQ(other.rows()->table()->rowCount(), 0);
}

TEST(RunChart, MarksWhatWasMeasured) {
  Porch y;
  RunChart chart(y.document);
  chart.resize(700, 200);
  y.document.selection().set({y.run});
  const QImage bare = chart.grab().toImage();
  writeDown(y.document, y.at(3, 11'420'000));
  y.document.settle();
  chart.setReading(3);
  EXPECT_TRUE(chart.readingText().contains(QStringLiteral("measured 11.4")))
      << chart.readingText().toStdString();
  const QStringList cells = chart.tsv().split(QLatin1Char('\n'))[3].split(QLatin1Char('\t'));
  EXPECT_EQ(cells[6], QStringLiteral("11.420"));
  EXPECT_NE(chart.grab().toImage(), bare);
}

}  // namespace yw::ui
