#include "ui/paint/fonts.h"

#include <QByteArray>
#include <QFile>
#include <QFontDatabase>
#include <QtEndian>

namespace yw::ui {
namespace {

constexpr const char* kPlainName = "B612";
constexpr const char* kOwnName = "Y612";  // same length, so that the name table keeps its places

quint16 short16(const QByteArray& bytes, qsizetype at) {
  return at + 2 <= bytes.size() ? qFromBigEndian<quint16>(bytes.constData() + at) : quint16(0);
}
quint32 long32(const QByteArray& bytes, qsizetype at) {
  return at + 4 <= bytes.size() ? qFromBigEndian<quint32>(bytes.constData() + at) : quint32(0);
}

qsizetype nameTable(const QByteArray& font) {
  for (int i = 0, n = short16(font, 4); i < n; ++i) {
    const qsizetype entry = 12 + 16 * i;
    if (font.mid(entry, 4) == "name") return static_cast<qsizetype>(long32(font, entry + 8));
  }
  return -1;
}

/// Puts the own name's first letter into the family names (ids 1 and 16, OpenType `name` table).
QByteArray underOwnName(QByteArray font) {
  const qsizetype table = nameTable(font);
  if (table < 0) return font;
  const qsizetype texts = table + short16(font, table + 4);
  for (int i = 0, n = short16(font, table + 2); i < n; ++i) {
    const qsizetype record = table + 6 + 12 * i;
    const int meaning = short16(font, record + 6);
    if (meaning != 1 && meaning != 16) continue;
    const qsizetype from = texts + short16(font, record + 10);
    const qsizetype to = std::min<qsizetype>(from + short16(font, record + 8), font.size());
    const qsizetype letter = font.indexOf(kPlainName[0], from);
    if (letter >= from && letter < to) font[letter] = kOwnName[0];
  }
  return font;
}

QString loadedFamily() {
  for (const char* face : {"B612-Regular", "B612-Bold"}) {
    QFile file(QString::fromUtf8(YARDWRIGHT_FONT_DIR) + QLatin1Char('/') + QLatin1String(face) +
               QLatin1String(".otf"));
    if (!file.open(QIODevice::ReadOnly)) return QString::fromLatin1(kPlainName);
    const int id = QFontDatabase::addApplicationFontFromData(underOwnName(file.readAll()));
    if (!QFontDatabase::applicationFontFamilies(id).contains(QLatin1String(kOwnName)))
      return QString::fromLatin1(kPlainName);
  }
  return QString::fromLatin1(kOwnName);
}

QFont fontOf(const QString& family, double pixelSize, bool bold) {
  QFont font(family);
  font.setPixelSize(std::max(1, qRound(pixelSize)));
  font.setBold(bold);
  font.setKerning(false);
  font.setHintingPreference(QFont::PreferNoHinting);
  return font;
}

}  // namespace

QString textFamily() {
  static const QString family = loadedFamily();
  return family;
}

QString monoFamily() { return QStringLiteral("B612 Mono"); }

QFont textFont(double pixelSize, bool bold) { return fontOf(textFamily(), pixelSize, bold); }
QFont monoFont(double pixelSize, bool bold) { return fontOf(monoFamily(), pixelSize, bold); }

}  // namespace yw::ui
