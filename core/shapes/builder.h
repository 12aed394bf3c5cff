#pragma once
#include <algorithm>
#include <concepts>
#include <string>
#include <utility>
#include <vector>

#include "core/shapes/shape.h"

namespace yw::shapes {

/// Puts a Shape together in string order: rows of pixels with the joints between them.
class ShapeBuilder {
 public:
  explicit ShapeBuilder(std::int64_t pixels);

  void startRow(std::string name);
  /// The next pixel; its wire runs straight from the one before.
  void add(Vec3 at) { addByWire(at, 0.0); }
  /// The next pixel; the wire to it follows the structure for `wire` metres (taken if longer than straight).
  void addByWire(Vec3 at, double wire) {
    if (!shape_.pixels.empty())
      shape_.hop.push_back(std::max(wire, base::distance(shape_.pixels.back(), at)));
    shape_.pixels.push_back(at);
  }
  /// Ends the row with a joint, e.g. `strip 3, top`.
  void endRow(std::string landmark);

  std::int64_t count() const { return static_cast<std::int64_t>(shape_.pixels.size()); }

  const Vec3& pixel(std::int64_t number) const { return shape_.pixels[static_cast<std::size_t>(number - 1)]; }

  /// A named part of the pixels first..last; an empty range adds nothing.
  void part(std::string name, std::int64_t first, std::int64_t last);
  void part(std::string name, std::vector<yard::Range> ranges);
  /// A named part of all pixels that `belongs(Vec3)` is true for, as few ranges as they make.
  template <class Belongs>
  requires std::predicate<Belongs, Vec3>
  void part(std::string name, Belongs&& belongs) {
    std::vector<yard::Range> ranges;
    for (std::int64_t k = 1; k <= count(); ++k)
      if (belongs(pixel(k))) extend(ranges, k);
    part(std::move(name), std::move(ranges));
  }
  /// `parts` named parts: a pixel is in the one that `number(Vec3)` says, from 0; `name(number)`.
  template <class Number, class Name>
  void partsBy(std::int64_t parts, Number&& number, Name&& name) {
    std::vector<std::vector<yard::Range>> all(static_cast<std::size_t>(parts));
    for (std::int64_t k = 1; k <= count(); ++k) extend(all[static_cast<std::size_t>(number(pixel(k)))], k);
    for (std::int64_t p = 0; p < parts; ++p) part(name(p), std::move(all[static_cast<std::size_t>(p)]));
  }

  void frameLine(std::vector<Vec3> line) { shape_.frame.push_back(std::move(line)); }
  void footprint(std::vector<Vec2> outline) { shape_.footprint = std::move(outline); }
  void footprintBox(double left, double front, double right, double back);
  /// A circle, or a sector open to the back, of 48 steps a full turn.
  void footprintSector(double radius, double arc);
  /// Projected and enclosed area, m²; `gross` 0: lines and poles, nothing enclosed.
  void windArea(double squareMetres, double gross = 0.0);
  const std::vector<Cut>& cuts() const { return shape_.cuts; }
  void swept(Swept swept) { shape_.swept = swept; }
  /// Alike pieces of a stock, `length` and `width` metres each.
  void cut(std::string stock, double length, std::int64_t pieces, std::string use, double width = 0.0);
  /// A part that is counted, not cut.
  void thing(std::string what, std::int64_t count) { cut(std::move(what), 0.0, count, {}); }
  void fasten(std::string what, std::int64_t count);
  /// Parts that stay as they are built when the prop is taken apart, metres each, laid on each other; they
  /// hold what is cut from these stocks. What is in no such part is bundled or coiled by its stock.
  void keep(std::string what, std::int64_t pieces, double length, double width, double depth,
            std::vector<std::string> stocks);
  /// The same for bent pipe: an arc of `angle` in as few alike pieces as a length of its stock makes, at
  /// least `least`.
  void keepArc(const std::string& what, std::int64_t arcs, double radius, double angle, std::int64_t least,
               const std::string& stock);
  /// Strings a second face, `depth` metres behind the first, back from where the first one ended: its parts
  /// are in the parts of the front, and `front` and `back` are parts too.
  void backFace(double depth);
  void fact(std::string name, base::Fact value) { shape_.facts[std::move(name)] = std::move(value); }
  void lengthFact(std::string name, double metres);
  void warn(std::string key, std::map<std::string, base::Fact> facts);

  /// Height and width over pixels and frame; ends at the first and the last pixel.
  Shape finish(std::string inLandmark, std::string outLandmark);

 private:
  /// One pixel more, the numbers rising.
  static void extend(std::vector<yard::Range>& ranges, std::int64_t pixel) {
    if (!ranges.empty() && ranges.back().last == pixel - 1)
      ranges.back().last = pixel;
    else
      ranges.push_back({pixel, pixel});
  }

  Shape shape_;
  std::vector<std::string> kept_;  ///< stocks that are in parts kept as they are
};

}  // namespace yw::shapes
