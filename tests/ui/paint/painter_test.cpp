#include "ui/paint/painter.h"

#include <gtest/gtest.h>

#include <QFile>
#include <QPainter>
#include <QProcess>
#include <QRawFont>
#include <QTemporaryDir>

#include "ui/paint/fonts.h"

namespace yw::ui {
namespace {

using papers::Align;
using papers::Item;
using papers::Mm;
using papers::Role;

Item text(Mm at, const std::string& words, double size = 4.233) {
  Item item;
  item.type = Item::Type::Text;
  item.points = {at};
  item.text = words;
  item.size = size;
  return item;
}

Item line(Mm a, Mm b, double width = 0.35) {
  Item item;
  item.points = {a, b};
  item.width = width;
  return item;
}

papers::Document sample(double width, double height) {
  papers::Document document;
  document.title = "Front yard, map";
  document.date = "2025-11-01";
  papers::Page page;
  page.width = width;
  page.height = height;
  page.items = {text({20, 30}, "K2-P05-A 12′ 6″ → Ring 3 Ω"), line({25.4, 100}, {50.8, 100}, 1.0)};
  document.pages = {page, page};
  return document;
}

QByteArray outputOf(const QString& program, const QStringList& words) {
  QProcess process;
  process.start(program, words);
  EXPECT_TRUE(process.waitForFinished(60000)) << program.toStdString();
  EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
  return process.readAllStandardOutput();
}

/// Extent of dark device pixels in an image.
QRect inkOf(const QImage& image) {
  QRect ink;
  for (int y = 0; y < image.height(); ++y)
    for (int x = 0; x < image.width(); ++x)
      if (qGray(image.pixel(x, y)) < 128) ink |= QRect(x, y, 1, 1);
  return ink;
}

TEST(Fonts, TheTextFaceIsNotTheMonoOne) {
  const QRawFont plain = QRawFont::fromFont(textFont(2000)), mono = QRawFont::fromFont(monoFont(2000));
  EXPECT_EQ(plain.advancesForGlyphIndexes(plain.glyphIndexesForString("f")).first().x(), 800.0);
  EXPECT_EQ(mono.advancesForGlyphIndexes(mono.glyphIndexesForString("f")).first().x(), 1300.0);
  EXPECT_EQ(mono.familyName(), "B612 Mono");
}

TEST(Painter, TextIsAsWideAsCoreSays) {
  for (const bool mono : {false, true})
    for (const char* words : {"|HAVE To ffi 12′ 6″ AV|", "|Лес 木 AV|"}) {
      Item item = text({10, 15}, words, 5.0);
      item.mono = mono;
      papers::Page page{300, 25, {item}, ""};
      const QRect ink = inkOf(pageImage(page, 254, Theme::of(Theme::Look::Paper), {}));
      const double width = papers::textWidth(words, 5.0, false, mono);
      // The bars at both ends stand in the middle of equal advances, so that their distance is the width less
      // one.
      const double bar = papers::textWidth("|", 5.0, false, mono);
      EXPECT_NEAR(ink.width() / 10.0, width - bar, 0.6) << words;
    }
}

TEST(Painter, AlignsAtTheGivenPoint) {
  const double width = papers::textWidth("HHHH", 5.0);
  for (const Align align : {Align::Left, Align::Center, Align::Right}) {
    Item item = text({50, 15}, "HHHH", 5.0);
    item.align = align;
    papers::Page page{100, 25, {item}, ""};
    const QRect ink = inkOf(pageImage(page, 254, Theme::of(Theme::Look::Paper), {}));
    const double middle = 50 + (align == Align::Left ? width / 2 : align == Align::Right ? -width / 2 : 0);
    EXPECT_NEAR(ink.center().x() / 10.0, middle, 0.3);
  }
}

TEST(Painter, ClipsUntilTheClipEnds) {
  Item begin;
  begin.type = Item::Type::ClipBegin;
  begin.points = {{10, 0}, {20, 0}, {20, 20}, {10, 20}};
  Item end;
  end.type = Item::Type::ClipEnd;
  papers::Page page{40, 20, {begin, line({0, 5}, {40, 5}), end, line({0, 10}, {40, 10})}, ""};
  const QImage image = pageImage(page, 254, Theme::of(Theme::Look::Paper), {});
  EXPECT_EQ(inkOf(image.copy(0, 40, 400, 20)).left(), 100);
  EXPECT_EQ(inkOf(image.copy(0, 40, 400, 20)).right(), 199);
  EXPECT_EQ(inkOf(image.copy(0, 90, 400, 20)).width(), 400);
}

TEST(Painter, AnUnknownPictureOrAnOpenClipHarmsNothing) {
  Item picture;
  picture.type = Item::Type::Image;
  picture.text = "no such key";
  picture.points = {{0, 0}, {10, 10}};
  Item begin;
  begin.type = Item::Type::ClipBegin;
  begin.points = {{0, 0}, {5, 0}, {5, 5}};
  const papers::Page page{20, 20, {picture, begin}, ""};
  const QImage image =
      pageImage(page, 100, Theme::of(Theme::Look::Light), [](const std::string&) { return ""; });
  EXPECT_EQ(image.pixelColor(40, 40), Theme::of(Theme::Look::Light).color(Role::Paper));
}

TEST(Painter, PaleKindsGetAnInkOutline) {
  Item dot;
  dot.type = Item::Type::Cloud;
  dot.role = Role::Kind8;
  dot.width = 4.0;
  dot.points = {{10, 10}};
  const papers::Page page{20, 20, {dot}, ""};
  const QImage image = pageImage(page, 508, Theme::of(Theme::Look::Paper), {});
  EXPECT_EQ(image.pixelColor(200, 200), QColor(240, 228, 66));
  EXPECT_LT(qGray(image.pixel(200 + 41, 200)), 60);
}

class Pdf : public ::testing::Test {
 protected:
  QString written(const papers::Document& document) {
    const QString path = folder_.filePath(QString("sheet%1.pdf").arg(++count_));
    const auto result = writePdf(document, path, {});
    EXPECT_TRUE(result) << (result ? "" : base::text(result.error()));
    return path;
  }
  QTemporaryDir folder_;
  int count_ = 0;
};

TEST_F(Pdf, HasTheSizeOfThePaperAndItsTitle) {
  const QByteArray letter = outputOf("pdfinfo", {written(sample(215.9, 279.4))});
  EXPECT_TRUE(letter.contains("612 x 792 pts")) << letter.toStdString();
  EXPECT_TRUE(letter.contains("Title:           Front yard, map")) << letter.toStdString();
  EXPECT_TRUE(letter.contains("Pages:           2")) << letter.toStdString();
  const QByteArray a4 = outputOf("pdfinfo", {written(sample(210.0, 297.0))});
  EXPECT_TRUE(a4.contains("595 x 842 pts")) << a4.toStdString();
}

TEST_F(Pdf, IsDatedByThePlanNotTheClock) {
  qputenv("TZ", "UTC");
  const QByteArray info = outputOf("pdfinfo", {"-isodates", written(sample(215.9, 279.4))});
  EXPECT_TRUE(info.contains("2025-11-01T00:00:00Z")) << info.toStdString();
}

TEST_F(Pdf, GivesTheSameBytesAtAnyTimeAndInAnyZone) {
  const papers::Document document = sample(215.9, 279.4);
  qputenv("TZ", "UTC");
  tzset();
  const std::string first = pdfBytes(document, {});
  qputenv("TZ", "Asia/Kolkata");
  tzset();
  const std::string second = pdfBytes(document, {});
  EXPECT_TRUE(first == second);
  const QString path = folder_.filePath("kolkata.pdf");
  QFile file(path);
  ASSERT_TRUE(file.open(QIODevice::WriteOnly));
  file.write(second.data(), static_cast<qint64>(second.size()));
  file.close();
  QProcess check;
  check.start("pdfinfo", {path});
  ASSERT_TRUE(check.waitForFinished());
  EXPECT_EQ(check.readAllStandardError(), QByteArray()) << "the byte places in the file no longer fit";
}

TEST_F(Pdf, TextCanBeSelectedAndItsFontIsInside) {
  const QString path = written(sample(215.9, 279.4));
  EXPECT_TRUE(outputOf("pdftotext", {"-layout", path, "-"}).contains("K2-P05-A 12′ 6″ → Ring 3 Ω"));
  const QByteArray fonts = outputOf("pdffonts", {path});
  EXPECT_TRUE(fonts.contains("B612-Regular")) << fonts.toStdString();
  EXPECT_TRUE(outputOf("pdfimages", {"-list", path}).split('\n').size() <= 3);
}

TEST_F(Pdf, AnInchIsAnInch) {
  const QString stem = folder_.filePath("inch");
  outputOf("pdftoppm",
           {"-r", "300", "-f", "1", "-l", "1", "-singlefile", "-gray", written(sample(215.9, 279.4)), stem});
  const QImage image(stem + ".pgm");
  ASSERT_FALSE(image.isNull());
  const int row = qRound(100 / 25.4 * 300);
  EXPECT_NEAR(inkOf(image.copy(0, row - 3, image.width(), 6)).width(), 300, 2);
}

TEST_F(Pdf, SaysWhereItCouldNotWrite) {
  const auto result = writePdf(sample(215.9, 279.4), folder_.filePath("no/such/folder/a.pdf"), {});
  ASSERT_FALSE(result);
  EXPECT_EQ(result.error().code, base::ErrorCode::CannotWrite);
}

}  // namespace
}  // namespace yw::ui
