// The sheets of a sample yard as they come out of the printer: written, opened by other programs, measured.
#include <gtest/gtest.h>

#include <QHashFunctions>
#include <QImage>
#include <QProcess>
#include <QTemporaryDir>
#include <filesystem>

#include "core/file/yard_file.h"
#include "core/papers/papers.h"
#include "ui/paint/painter.h"

namespace yw::ui {
namespace {

using yard::SheetKind;

class SheetsPdf : public ::testing::Test {
 protected:
  void SetUp() override {
    const auto opened =
        file::open(std::filesystem::path(YARDWRIGHT_ROOT) / "sample-yards" / "porch-and-lawn.yard");
    ASSERT_TRUE(opened) << base::text(opened.error());
    assessment_ = assess::assess(opened->yard);
    report_ = findings::report(*assessment_);
  }

  papers::Document document(std::vector<papers::SheetRequest> requests = {}) const {
    return papers::document(*assessment_, report_,
                            requests.empty() ? papers::sheetsOf(*assessment_) : requests);
  }

  QString written(const papers::Document& document) const {
    const QString path = folder_.filePath("sheets.pdf");
    EXPECT_TRUE(writePdf(document, path, {}));
    return path;
  }

  static QByteArray outputOf(const QString& program, const QStringList& words) {
    QProcess process;
    process.start(program, words);
    EXPECT_TRUE(process.waitForFinished(120000)) << program.toStdString();
    EXPECT_EQ(process.exitCode(), 0) << process.readAllStandardError().toStdString();
    return process.readAllStandardOutput();
  }

  QImage page(const QString& pdf, int number, int dotsPerInch) const {
    const QString stem = folder_.filePath(QString("page%1").arg(number));
    outputOf("pdftoppm", {"-r", QString::number(dotsPerInch), "-f", QString::number(number), "-l",
                          QString::number(number), "-singlefile", "-gray", pdf, stem});
    return QImage(stem + ".pgm");
  }

  QTemporaryDir folder_;
  assess::AssessmentPtr assessment_;
  findings::Report report_;
};

/// Longest run of dark pixels in a row of the image.
int longestInk(const QImage& image, int row) {
  int longest = 0, now = 0;
  for (int x = 0; x < image.width(); ++x) {
    now = qGray(image.pixel(x, row)) < 100 ? now + 1 : 0;
    longest = std::max(longest, now);
  }
  return longest;
}

TEST_F(SheetsPdf, AnInchOfTheMapsBarIs300DotsAt300DotsAnInch) {
  const papers::Document map = document({{SheetKind::Map, {}}});
  double barMiddle = 0.0;
  for (const papers::Item& item : map.pages[0].items)
    if (item.type == papers::Item::Type::Area && item.filled && item.role == papers::Role::Ink &&
        item.points.size() == 4 && std::abs(item.points[1].x - item.points[0].x - 25.4) < 1e-3 &&
        barMiddle == 0.0)
      barMiddle = (item.points[0].y + item.points[2].y) / 2;
  ASSERT_GT(barMiddle, 0.0) << "no block of an inch in the bar";
  const QImage image = page(written(map), 1, 300);
  EXPECT_NEAR(longestInk(image, qRound(barMiddle / 25.4 * 300)), 300, 2);
}

TEST_F(SheetsPdf, TwoWritesGiveTheSameBytes) {
  const papers::Document all = document();
  EXPECT_TRUE(pdfBytes(all, {}) == pdfBytes(all, {}));
  EXPECT_TRUE(pdfBytes(all, {}) == pdfBytes(document(), {}));
}

// Each process has its own hash seed; a new one between the writes stands for a new process.
TEST_F(SheetsPdf, TheBytesDoNotDependOnTheHashSeed) {
  const papers::Document all = document();
  const std::string first = pdfBytes(all, {});
  for (int i = 0; i < 8; ++i) {
    QHashSeed::resetRandomGlobalSeed();
    EXPECT_TRUE(pdfBytes(all, {}) == first) << i;
  }
}

TEST_F(SheetsPdf, OtherProgramsFindItsPagesAndItsWords) {
  const papers::Document all = document();
  const QString pdf = written(all);
  EXPECT_TRUE(
      outputOf("pdfinfo", {pdf}).contains(QString("Pages:           %1").arg(all.pages.size()).toUtf8()));
  const QByteArray text = outputOf("pdftotext", {"-layout", pdf, "-"});
  for (const char* words :
       {"K1-P01", "BACK VIEW", "Not checked:", "Fuse positions", "Little tree", "not an approval"})
    EXPECT_TRUE(text.contains(words)) << words;
}

TEST_F(SheetsPdf, NothingIsInkedOutsideTheMargins) {
  const papers::Document all = document();
  for (std::size_t i = 0; i < all.pages.size(); ++i) {
    const QImage image = pageImage(all.pages[i], 50, Theme::of(Theme::Look::Paper), {});
    const int margin = 18;  // 9 mm
    bool clean = true;
    for (int y = 0; y < image.height(); ++y)
      for (int x = 0; x < image.width(); ++x) {
        const bool inside =
            x >= margin && y >= margin && x < image.width() - margin && y < image.height() - margin;
        if (!inside && qGray(image.pixel(x, y)) < 250) clean = false;
      }
    EXPECT_TRUE(clean) << "page " << i + 1 << " " << all.pages[i].title;
  }
}

TEST_F(SheetsPdf, IsLegibleWithoutColor) {
  // Every ink of the paper look stays 3:1 on white when it is turned to gray (ux: greyscale legible).
  const Theme& paper = Theme::of(Theme::Look::Paper);
  for (const papers::Page& page : document().pages)
    for (const papers::Item& item : page.items) {
      if (item.role == papers::Role::Paper || item.role == papers::Role::Magnitude) continue;
      const int gray = qGray(paper.color(item.role).rgb());
      EXPECT_GE(contrast(QColor(gray, gray, gray), Qt::white), 3.0) << static_cast<int>(item.role);
    }
}

}  // namespace
}  // namespace yw::ui
