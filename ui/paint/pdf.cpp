#include <QBuffer>
#include <QHashFunctions>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <algorithm>
#include <string>
#include <string_view>

#include "core/file/yard_file.h"
#include "ui/paint/painter.h"

namespace yw::ui {
namespace {

constexpr int kDotsPerInch = 1200;
constexpr const char* kDateMark = "/CreationDate (";

QPageSize sizeOf(const papers::Page& page) {
  return QPageSize(QSizeF(page.width, page.height), QPageSize::Millimeter, QString(), QPageSize::FuzzyMatch);
}

/// A PDF date of fixed length (ISO 32000-1, 7.9.4) from an ISO 8601 date; 2000-01-01 when the plan has none.
std::string pdfDate(const std::string& iso) {
  std::string digits;
  for (const char c : iso)
    if (c >= '0' && c <= '9' && digits.size() < 14) digits += c;
  if (digits.size() != 8 && digits.size() != 14) digits = "20000101";
  digits.resize(14, '0');
  return "D:" + digits + "Z";
}

std::size_t numberAt(const std::string& bytes, std::size_t at, std::size_t length) {
  std::size_t value = 0;
  for (std::size_t i = at; i < at + length && i < bytes.size() && bytes[i] >= '0' && bytes[i] <= '9'; ++i)
    value = value * 10 + static_cast<std::size_t>(bytes[i] - '0');
  return value;
}

/// Moves the byte places of the cross-reference table (ISO 32000-1, 7.5.4: 20 bytes an entry) that lie after
/// `from` by `shift`.
void moveReferences(std::string& bytes, std::size_t from, std::ptrdiff_t shift) {
  const std::size_t mark = bytes.rfind("startxref\n");
  if (mark == std::string::npos) return;
  const std::size_t number = mark + 10, end = bytes.find_first_not_of("0123456789", number);
  const auto table =
      static_cast<std::size_t>(static_cast<std::ptrdiff_t>(numberAt(bytes, number, end - number)) + shift);
  bytes.replace(number, end - number, std::to_string(table));
  std::size_t entry = bytes.find('\n', table + 5) + 1;  // after `xref` and `0 count`
  for (; entry + 20 <= bytes.size() && bytes[entry + 10] == ' '; entry += 20) {
    const std::size_t place = numberAt(bytes, entry, 10);
    if (place <= from) continue;
    std::string moved = std::to_string(static_cast<std::ptrdiff_t>(place) + shift);
    moved.insert(0, 10 - std::min<std::size_t>(10, moved.size()), '0');
    bytes.replace(entry, 10, moved);
  }
}

/// Qt writes the clock's time in the local zone; the plan's own date goes in its place.
std::string withPlanDate(std::string bytes, const std::string& isoDate) {
  const std::size_t mark = bytes.find(kDateMark);
  if (mark == std::string::npos) return bytes;
  const std::size_t from = mark + std::char_traits<char>::length(kDateMark), to = bytes.find(')', from);
  if (to == std::string::npos) return bytes;
  const std::string date = pdfDate(isoDate);
  bytes.replace(from, to - from, date);
  const auto shift = static_cast<std::ptrdiff_t>(date.size()) - static_cast<std::ptrdiff_t>(to - from);
  if (shift != 0) moveReferences(bytes, mark, shift);
  return bytes;
}

/// B612 has one glyph for tab and space, and Qt names it by the lower code: copied text would have tabs. The
/// maps from glyph to character stand in the file unpacked, one bracketed list a range.
std::string withSpaces(std::string bytes) {
  constexpr std::string_view tab = "<0009>", space = "<0020>";
  for (std::size_t map = bytes.find("beginbfrange"); map != std::string::npos;
       map = bytes.find("beginbfrange", map + 1)) {
    const std::size_t end = bytes.find("endbfrange", map);
    for (std::size_t list = bytes.find('[', map); list < end; list = bytes.find('[', list + 1)) {
      const std::size_t found = bytes.find(tab, list);
      if (found < bytes.find(']', list)) bytes.replace(found, tab.size(), space);
    }
  }
  return bytes;
}

/// Qt writes a document's fonts in the order of a hash table, whose seed is another in every process; while
/// one of these lives the seed is fixed.
class FixedHashSeed {
 public:
  FixedHashSeed() : wasRandom_(static_cast<std::size_t>(QHashSeed::globalSeed()) != 0) {
    QHashSeed::setDeterministicGlobalSeed();
  }
  ~FixedHashSeed() {
    if (wasRandom_) QHashSeed::resetRandomGlobalSeed();
  }
  FixedHashSeed(const FixedHashSeed&) = delete;
  FixedHashSeed& operator=(const FixedHashSeed&) = delete;

 private:
  bool wasRandom_;
};

}  // namespace

std::string pdfBytes(const papers::Document& document, const BlobSource& blobs,
                     const std::function<bool(std::size_t)>& goesOn) {
  const FixedHashSeed fixedSeed;
  QByteArray bytes;
  QBuffer buffer(&bytes);
  buffer.open(QIODevice::WriteOnly);
  QPdfWriter writer(&buffer);
  writer.setResolution(kDotsPerInch);
  writer.setTitle(QString::fromStdString(document.title));
  writer.setCreator(QStringLiteral("Yardwright " YARDWRIGHT_VERSION));
  writer.setPageMargins(QMarginsF(0, 0, 0, 0));
  static const papers::Page blank;
  const std::size_t count = std::max<std::size_t>(1, document.pages.size());
  QPainter painter;
  for (std::size_t i = 0; i < count; ++i) {
    if (goesOn && !goesOn(i)) return {};
    const papers::Page& page = document.pages.empty() ? blank : document.pages[i];
    writer.setPageSize(sizeOf(page));
    writer.setPageMargins(QMarginsF(0, 0, 0, 0));
    if (i == 0) {
      painter.begin(&writer);
    } else {
      writer.newPage();
    }
    painter.save();
    painter.scale(kDotsPerInch / 25.4, kDotsPerInch / 25.4);
    paintPage(painter, page, Theme::of(Theme::Look::Paper), blobs);
    painter.restore();
  }
  painter.end();
  buffer.close();
  return withPlanDate(withSpaces(bytes.toStdString()), document.date);
}

base::Result<void> writePdf(const papers::Document& document, const QString& path, const BlobSource& blobs) {
  return file::writeWhole(std::filesystem::path(path.toStdU16String()), pdfBytes(document, blobs));
}

}  // namespace yw::ui
