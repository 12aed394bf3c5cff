#pragma once
// How things are drawn on the Yard and the House front: inks, pens, fonts, hatches. Scene unit: one
// millimetre of yard, y down (the plan's y is up), so that text stays upright without a mirrored view.
#include <QColor>
#include <QFont>
#include <QLineF>
#include <QPen>
#include <QPointF>
#include <QPolygonF>
#include <QString>
#include <cstdint>
#include <vector>

#include "core/base/message.h"
#include "core/base/point.h"
#include "ui/paint/theme.h"

namespace yw::ui {

class Selection;

/// Which question the pixels' colors answer.
enum class ColorBy { Volts, Run, Product };

/// What can be hidden or held still as a whole.
enum class Layer { Photo, Ground, Cables, Props, Gear, Labels, Findings, Grid };
inline constexpr int kLayers = 8;

/// Color of one pixel, small enough to keep one byte for each: 0..15 magnitude, then kinds, then states.
namespace pixel_code {
inline constexpr std::uint8_t kMagnitudes = 16;
inline constexpr std::uint8_t kFirstKind = 16;  ///< Kind1 … Kind8
inline constexpr std::uint8_t kUnwired = 24;    ///< no run reaches it
inline constexpr std::uint8_t kDark = 25;       ///< wired, but too few volts to light
inline constexpr std::uint8_t kCount = 26;
}  // namespace pixel_code

/// Millimetres of paper to logical pixels of screen, at the 96 dots an inch of a logical pixel.
inline constexpr double kPixelsPerPaperMm = 96.0 / 25.4;

/// What every item needs to draw itself; owned by the view, shared by its items.
struct Look {
  const Theme* theme = &Theme::of(Theme::Look::Light);
  const Selection* selection = nullptr;
  ColorBy colorBy = ColorBy::Volts;
  double deviceRatio = 1.0;  ///< device pixels in a logical one
  double scale = 0.05;       ///< logical pixels in one mm of scene
  bool dense = false;        ///< so many pixels in view that dots give way to points
  bool stale = false;        ///< figures are being computed again: cables and colors look it
  bool shown[kLayers] = {true, true, true, true, true, true, true, false};
  bool held[kLayers] = {true, false, false, false, false, false, false, false};

  bool shows(Layer layer) const { return shown[static_cast<int>(layer)]; }
  bool holds(Layer layer) const { return held[static_cast<int>(layer)]; }
  QColor color(papers::Role role) const { return theme->color(role); }
  QColor pixelColor(std::uint8_t code) const;
  /// A pen whose width does not follow the zoom: millimetres of paper.
  QPen pen(papers::Role role, double paperMm, papers::Dash dash = papers::Dash::Solid) const;
  QPen pen(const QColor& color, double paperMm, papers::Dash dash = papers::Dash::Solid) const;
};

/// The three sizes of type on screen.
enum class TypeSize { Id, Text, Note };
QFont typeFace(TypeSize size, bool bold = false);

QPointF toScene(base::Vec2 plan);
QPointF toScene(base::Point plan);
base::Vec2 planOf(QPointF scene);
base::Point pointOf(QPointF scene);  ///< rounded to whole micrometres: finer is below any hand

/// Lines of a hatch inside a closed outline: `turn` degrees anticlockwise from level, `gap` apart, in place
/// with the scene's origin so that they do not swim when the view moves. Even-odd rule.
std::vector<QLineF> hatch(const QPolygonF& outline, double turn, double gap);

/// Shortest distance from a point to a polyline (closed: also its closing edge).
double distanceTo(const QPolygonF& line, bool closed, QPointF point);

/// The wording of a message as the window shows it.
QString said(const char* key, std::map<std::string, base::Fact> facts = {},
             base::UnitSystem units = base::UnitSystem::FeetInches);

/// A way or a place in words, never with a minus: `2′ 0″ right, 1′ 0″ down`.
QString wayWords(base::Point way, base::UnitSystem units);

}  // namespace yw::ui
