#include <algorithm>

#include "core/circuit/power.h"

namespace yw::circuit {

namespace {

using namespace yw::yard;

/// Puts a run's places one after the other.
class Layouter {
 public:
  Layouter(const Yard& yard, const Shapes& shapes, const Routes& routes, Id run)
      : yard_(yard), shapes_(shapes), routes_(routes), run_(run) {}

  RunLayout lay() {
    const Run* run = find<Run>(yard_, run_);
    if (run == nullptr) return {};
    for (std::size_t i = 0; i < run->items.size(); ++i) add(run->items[i], static_cast<std::int64_t>(i));
    return std::move(out_);
  }

 private:
  void add(const RunItem& item, std::int64_t index) {
    if (item.kind == RunItemKind::Unused) return;
    takeCable(index);
    if (item.kind == RunItemKind::Stretch) addStretch(item, index);
    if (item.kind == RunItemKind::NullPixel)
      for (std::int64_t k = 0; k < item.count; ++k)
        addPlace({{}, 0, index}, k == 0 ? 0.0 : kNullSpacing, lastWire_);
  }

  /// Keeps the cable that leads to this item until the next place takes it.
  void takeCable(std::int64_t index) {
    for (const routes::CableRole role : {routes::CableRole::Lead, routes::CableRole::Jumper}) {
      const auto cable = routes_.cables.find({role, run_, index});
      if (cable == routes_.cables.end()) continue;
      pending_.push_back(cable->first);
      pendingLength_ += cable->second.length();
      pendingWire_ = cable->second.wire;
    }
  }

  void addStretch(const RunItem& item, std::int64_t index) {
    const auto shape = shapes_.find(item.prop);
    const Prop* prop = find<Prop>(yard_, item.prop);
    if (shape == shapes_.end() || prop == nullptr) return;
    const Product* product = productOf(yard_, *prop);
    const double spacing = product == nullptr ? 0.0 : base::metres(product->wireSpacing).si;
    const Id wire = product == nullptr ? Id{} : product->stringWire;
    const auto count = static_cast<std::int64_t>(shape->second->pixels.size());
    const std::int64_t first = std::clamp<std::int64_t>(item.first == 0 ? 1 : item.first, 1, count);
    const std::int64_t last = std::clamp<std::int64_t>(item.last == 0 ? count : item.last, 1, count);
    if (item.first > count || last < first) return;
    for (std::int64_t k = 0; k <= last - first; ++k) {
      const std::int64_t pixel = item.reversed ? last - k : first + k;
      const std::int64_t segment =
          item.reversed ? pixel : pixel - 1;  // 1-based lower pixel of the segment entered by
      const double hop = k == 0 ? 0.0 : shape->second->hop[static_cast<std::size_t>(segment - 1)];
      addPlace({item.prop, pixel, index}, k == 0 ? 0.0 : std::max(hop, spacing), wire);
    }
    lastWire_ = wire;
  }

  void addPlace(RunPixel place, double length, Id wire) {
    if (!pending_.empty()) {
      out_.cablesBefore.emplace(static_cast<std::int64_t>(out_.pixels.size()), pending_);
      if (!out_.pixels.empty()) length = pendingLength_;
      wire = pendingWire_;
      pending_.clear();
      pendingLength_ = 0.0;
    }
    if (out_.pixels.empty()) length = 0.0;
    along_ += length;
    out_.pixels.push_back(place);
    out_.along.push_back(along_);
    out_.wireBefore.push_back(length);
    out_.wire.push_back(wire);
  }

  static constexpr double kNullSpacing = 0.1;  ///< m between null pixels that follow one another: assumed
  const Yard& yard_;
  const Shapes& shapes_;
  const Routes& routes_;
  Id run_, lastWire_, pendingWire_;
  std::vector<CableKey> pending_;
  double pendingLength_ = 0.0, along_ = 0.0;
  RunLayout out_;
};

}  // namespace

RunLayout layoutOf(const Yard& yard, const Shapes& shapes, const Routes& routes, Id run) {
  return Layouter(yard, shapes, routes, run).lay();
}

Layouts layouts(const Yard& yard, const Shapes& shapes, const Routes& routes) {
  Layouts all;
  for (const auto& [id, run] : yard::all<Run>(yard))
    all.emplace(id, std::make_shared<const RunLayout>(layoutOf(yard, shapes, routes, id)));
  return all;
}

Load loadOf(const Product& product, double brightness) {
  const double idle = base::amps(product.idle).si, white = base::amps(product.fullWhite).si;
  const double nominal = base::volts(product.voltage).si, dark = base::volts(product.darkVolts).si;
  Load load;
  load.idle = idle;
  load.dark = dark;
  load.full = base::volts(product.lowestVolts).si;
  const double set = std::max(0.0, brightness * (white - idle));
  switch (product.load) {
    case LoadModel::ConstantCurrent:
    case LoadModel::SeriesConstantCurrent:
      load.set = set;
      break;
    case LoadModel::Resistor:
      load.kind = Load::Kind::Resistor;
      load.ohms = set > 0 && nominal > dark ? (nominal - dark) / set : 0.0;
      break;
    case LoadModel::Regulated:
      load.kind = Load::Kind::Regulated;
      load.watts = nominal * set;
      load.cut = load.full;
      break;
  }
  return load;
}

}  // namespace yw::circuit
