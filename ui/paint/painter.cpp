#include "ui/paint/painter.h"

#include <QGlyphRun>
#include <QPainter>
#include <QPainterPath>
#include <QRawFont>
#include <algorithm>
#include <cmath>

#include "core/papers/characters.h"
#include "core/papers/hatch.h"
#include "ui/paint/fonts.h"

namespace yw::ui {
namespace {

using papers::Item;
using papers::Mm;
using papers::Role;

constexpr double kEm = 2000.0;          // B612's units an em: at this size its advances are whole numbers
constexpr double kLeastContrast = 3.0;  // WCAG 2.2, 1.4.11
constexpr double kCasing = 0.3;         // mm, outline of what the paper alone would not set off
constexpr double kSmallestDot = 1.6;    // device pixels: below it a dot is one device pixel

QPointF at(Mm p) { return {p.x, p.y}; }

QPolygonF polygon(const std::vector<Mm>& points) {
  QPolygonF out;
  out.reserve(static_cast<qsizetype>(points.size()));
  for (const Mm p : points) out << at(p);
  return out;
}

class PagePainter {
 public:
  PagePainter(QPainter& painter, const Theme& theme, const BlobSource& blobs)
      : painter_(painter), theme_(theme), blobs_(blobs) {
    const QTransform t = painter.deviceTransform();
    devicePerMm_ = std::hypot(t.m11(), t.m12());
  }

  void paint(const Item& item) {
    switch (item.type) {
      case Item::Type::Line:
        return line(item);
      case Item::Type::Area:
        return area(item);
      case Item::Type::Text:
        return text(item);
      case Item::Type::Cloud:
        return cloud(item);
      case Item::Type::Image:
        return image(item);
      case Item::Type::ClipBegin:
        return clip(item);
      case Item::Type::ClipEnd:
        return endClip();
    }
  }

  void finish() {
    while (clips_ > 0) endClip();
  }

 private:
  QColor color(const Item& item) const {
    return item.role == Role::Magnitude ? theme_.magnitude(item.magnitude) : theme_.color(item.role);
  }

  /// Kinds and magnitudes that the paper alone would not set off get an outline in ink.
  bool needsCasing(const Item& item) const {
    if (item.role != Role::Magnitude && (item.role < Role::Kind1 || item.role > Role::Kind8)) return false;
    return contrast(color(item), theme_.color(Role::Paper)) < kLeastContrast;
  }

  static QPen pen(const QColor& color, double width, papers::Dash dash = papers::Dash::Solid) {
    QPen pen(color, width, Qt::SolidLine, Qt::FlatCap, Qt::RoundJoin);
    const std::vector<double>& pattern = papers::dashPattern(dash);
    if (!pattern.empty() && width > 0.0) {
      QList<qreal> inWidths;
      for (const double length : pattern) inWidths << length / width;
      pen.setDashPattern(inWidths);
    }
    return pen;
  }

  void line(const Item& item) {
    const QPolygonF points = polygon(item.points);
    painter_.setBrush(Qt::NoBrush);
    if (needsCasing(item)) {
      painter_.setPen(pen(theme_.color(Role::Ink), item.width + kCasing));
      painter_.drawPolyline(points);
    }
    painter_.setPen(pen(color(item), item.width, item.dash));
    painter_.drawPolyline(points);
    if (!item.arrow) return;
    painter_.setPen(Qt::NoPen);
    painter_.setBrush(color(item));
    painter_.drawPolygon(polygon(papers::arrowHead(item.points, item.width)));
  }

  void area(const Item& item) {
    const QPolygonF outline = polygon(item.points);
    if (item.hatched) {
      const papers::HatchStyle style = papers::hatchStyle(item.role);
      painter_.setPen(pen(color(item), style.width));
      for (const auto& [a, b] : papers::hatchStrokes(item.points, style.spacing, style.degrees))
        painter_.drawLine(at(a), at(b));
    }
    painter_.setBrush(item.filled ? QBrush(color(item)) : QBrush(Qt::NoBrush));
    if (needsCasing(item)) {
      painter_.setPen(pen(theme_.color(Role::Ink), std::max(item.width, kCasing / 2)));
    } else if (item.width > 0.0) {
      painter_.setPen(pen(color(item), item.width, item.dash));
    } else {
      painter_.setPen(Qt::NoPen);
    }
    painter_.drawPolygon(outline);
  }

  void cloud(const Item& item) {
    const QPolygonF points = polygon(item.points);
    const bool tiny = item.width * devicePerMm_ < kSmallestDot;
    if (needsCasing(item) && !tiny) {
      painter_.setPen(QPen(theme_.color(Role::Ink), item.width + kCasing / 2, Qt::SolidLine, Qt::RoundCap));
      painter_.drawPoints(points);
    }
    QPen dot(color(item), tiny ? 1.0 : item.width, Qt::SolidLine, Qt::RoundCap);
    dot.setCosmetic(tiny);
    painter_.setPen(dot);
    painter_.drawPoints(points);
  }

  static double shiftOf(papers::Align align, double width) {
    return align == papers::Align::Left ? 0.0 : align == papers::Align::Center ? -width / 2 : -width;
  }

  void text(const Item& item) {
    if (item.points.empty() || item.text.empty()) return;
    const double width = papers::textWidth(item.text, kEm, item.bold, item.mono);
    painter_.save();
    painter_.translate(at(item.points.front()));
    painter_.rotate(-item.turn);
    painter_.scale(item.size / kEm, item.size / kEm);
    painter_.translate(shiftOf(item.align, width), 0.0);
    painter_.setPen(color(item));
    if (papers::inFont(item.text)) {
      glyphs(item);
    } else {
      borrowed(item, width);
    }
    painter_.restore();
  }

  /// Every glyph at the place core gave it.
  void glyphs(const Item& item) {
    const QRawFont& font = rawFont(item.bold, item.mono);
    const QString text = QString::fromStdString(item.text);
    QList<QPointF> places;
    double x = 0.0;
    for (const char32_t code : papers::codePoints(item.text)) {
      places << QPointF(x, 0.0);
      x += papers::textWidth(papers::utf8Of({code}), kEm, item.bold, item.mono);
    }
    QGlyphRun run;
    run.setRawFont(font);
    run.setGlyphIndexes(font.glyphIndexesForString(text));
    run.setPositions(places);
    painter_.drawGlyphRun({0.0, 0.0}, run);
  }

  /// Characters B612 lacks come from another font, pressed into the width that core reckoned with.
  void borrowed(const Item& item, double width) {
    const QFont font = item.mono ? monoFont(kEm, item.bold) : textFont(kEm, item.bold);
    const QString text = QString::fromStdString(item.text);
    const double natural = QFontMetricsF(font).horizontalAdvance(text);
    if (natural <= 0.0) return;
    painter_.scale(width / natural, 1.0);
    painter_.setFont(font);
    painter_.drawText(QPointF(0.0, 0.0), text);
  }

  static const QRawFont& rawFont(bool bold, bool mono) {
    static const QRawFont fonts[] = {
        QRawFont::fromFont(textFont(kEm, false)), QRawFont::fromFont(textFont(kEm, true)),
        QRawFont::fromFont(monoFont(kEm, false)), QRawFont::fromFont(monoFont(kEm, true))};
    return fonts[(mono ? 2 : 0) + (bold ? 1 : 0)];
  }

  void image(const Item& item) {
    if (item.points.size() < 2 || !blobs_) return;
    const std::string bytes = blobs_(item.text);
    const QImage picture =
        QImage::fromData(reinterpret_cast<const uchar*>(bytes.data()), static_cast<int>(bytes.size()));
    if (picture.isNull()) return;
    painter_.drawImage(QRectF(at(item.points[0]), at(item.points[1])).normalized(), picture);
  }

  void clip(const Item& item) {
    painter_.save();
    ++clips_;
    QPainterPath path;
    path.addPolygon(polygon(item.points));
    path.closeSubpath();
    painter_.setClipPath(path, Qt::IntersectClip);
  }

  void endClip() {
    if (clips_ == 0) return;
    --clips_;
    painter_.restore();
  }

  QPainter& painter_;
  const Theme& theme_;
  const BlobSource& blobs_;
  double devicePerMm_ = 1.0;
  int clips_ = 0;
};

}  // namespace

void paintPage(QPainter& painter, const papers::Page& page, const Theme& theme, const BlobSource& blobs) {
  PagePainter brush(painter, theme, blobs);
  for (const Item& item : page.items) brush.paint(item);
  brush.finish();
}

QImage pageImage(const papers::Page& page, double dotsPerInch, const Theme& theme, const BlobSource& blobs) {
  const double perMm = dotsPerInch / 25.4;
  QImage image(std::max(1, qRound(page.width * perMm)), std::max(1, qRound(page.height * perMm)),
               QImage::Format_RGB32);
  image.setDotsPerMeterX(qRound(perMm * 1000.0));
  image.setDotsPerMeterY(qRound(perMm * 1000.0));
  image.fill(theme.color(Role::Paper));
  QPainter painter(&image);
  painter.setRenderHints(QPainter::Antialiasing | QPainter::TextAntialiasing |
                         QPainter::SmoothPixmapTransform);
  painter.scale(perMm, perMm);
  paintPage(painter, page, theme, blobs);
  return image;
}

}  // namespace yw::ui
