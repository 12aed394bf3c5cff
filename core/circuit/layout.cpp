#include <algorithm>

#include "core/circuit/power.h"

namespace yw::circuit {

namespace {

/// Walks a run's items and lays its pixels end to end.
class Layer {
 public:
  Layer(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, Id run)
      : yard_(yard), shapes_(shapes), routes_(routes), id_(run), run_(*yard::find<yard::Run>(yard, run)) {}

  RunLayout lay() {
    for (item_ = 0; item_ < static_cast<std::int64_t>(run_.items.size()); ++item_) {
      const yard::RunItem& item = run_.items[static_cast<std::size_t>(item_)];
      if (item.kind == yard::RunItemKind::Unused) continue;
      takeCable();
      if (item.kind == yard::RunItemKind::Stretch) stretch(item);
      if (item.kind == yard::RunItemKind::NullPixel) nullPixels(item);
    }
    return std::move(out_);
  }

 private:
  /// The lead or jumper that goes to this item, if the routes have one, waits for the next pixel.
  void takeCable() {
    for (const auto role : {routes::CableRole::Lead, routes::CableRole::Jumper}) {
      const auto it = routes_.cables.find({role, id_, item_});
      if (it == routes_.cables.end()) continue;
      waiting_.push_back(it->first);
      waitingLength_ += it->second.length();
      waitingWire_ = it->second.wire;
    }
  }

  void stretch(const yard::RunItem& item) {
    const auto* prop = yard::find<yard::Prop>(yard_, item.prop);
    const auto shape = shapes_.find(item.prop);
    if (prop == nullptr || shape == shapes_.end()) return;
    const auto& hop = shape->second->hop;
    const auto count = static_cast<std::int64_t>(shape->second->pixels.size());
    const std::int64_t first = std::max<std::int64_t>(item.first, 1);
    const std::int64_t last = item.last == 0 ? count : std::min(item.last, count);
    const auto* product = yard::productOf(yard_, *prop);
    const double spacing = product != nullptr ? base::metres(product->wireSpacing).si : 0.0;
    const Id wire = product != nullptr ? product->stringWire : Id{};
    for (std::int64_t n = 0; first + n <= last; ++n) {
      const std::int64_t pixel = item.reversed ? last - n : first + n;
      const std::int64_t before = item.reversed ? pixel : pixel - 1;  // 1-based pixel whose hop leads here
      double length = spacing;
      if (n > 0 && before >= 1 && before <= static_cast<std::int64_t>(hop.size()))
        length = std::max(length, hop[static_cast<std::size_t>(before - 1)]);
      add({item.prop, pixel, item_}, length, wire);
    }
  }

  void nullPixels(const yard::RunItem& item) {
    const yard::Product* product = nearestProduct();
    const double spacing = product != nullptr ? base::metres(product->wireSpacing).si : 0.0;
    const Id wire = product != nullptr ? product->stringWire : Id{};
    for (std::int64_t n = 0; n < item.count; ++n) add({{}, 0, item_}, spacing, wire);
  }

  /// Product of the next stretch, else of the last one.
  const yard::Product* nearestProduct() const {
    const yard::Product* found = nullptr;
    for (std::int64_t i = 0; i < static_cast<std::int64_t>(run_.items.size()); ++i) {
      if (found != nullptr && i > item_) break;
      const auto* prop = yard::find<yard::Prop>(yard_, run_.items[static_cast<std::size_t>(i)].prop);
      if (prop == nullptr) continue;
      if (const auto* product = yard::productOf(yard_, *prop); product != nullptr) found = product;
    }
    return found;
  }

  void add(const RunPixel& pixel, double length, Id wire) {
    const bool first = out_.pixels.empty();
    if (!waiting_.empty()) {
      out_.cablesBefore.emplace(static_cast<std::int64_t>(out_.pixels.size()), std::move(waiting_));
      length = waitingLength_;
      wire = waitingWire_;
      waiting_.clear();
      waitingLength_ = 0.0;
    }
    out_.along.push_back(first ? 0.0 : out_.along.back() + length);
    out_.wireBefore.push_back(first ? 0.0 : length);
    out_.wire.push_back(wire);
    out_.pixels.push_back(pixel);
  }

  const yard::Yard& yard_;
  const Shapes& shapes_;
  const Routes& routes_;
  Id id_;
  const yard::Run& run_;
  std::int64_t item_ = 0;
  std::vector<CableKey> waiting_;
  double waitingLength_ = 0.0;
  Id waitingWire_;
  RunLayout out_;
};

}  // namespace

RunLayout layoutOf(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, Id run) {
  if (yard::find<yard::Run>(yard, run) == nullptr) return {};
  return Layer(yard, shapes, routes, run).lay();
}

Layouts layouts(const yard::Yard& yard, const Shapes& shapes, const Routes& routes) {
  Layouts out;
  for (const auto& [id, run] : yard::all<yard::Run>(yard))
    out.emplace(id, std::make_shared<const RunLayout>(layoutOf(yard, shapes, routes, id)));
  return out;
}

}  // namespace yw::circuit
