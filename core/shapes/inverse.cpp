#include "core/shapes/inverse.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/shapes/sizes.h"

namespace yw::shapes {
namespace {

enum class State { Fits, Over, Refused };

std::int64_t tapeStep(base::UnitSystem units) {
  return units == base::UnitSystem::Metric ? base::millimetres(1).count : base::kNanometresPerInch / 16;
}

/// Lengths that make a prop larger; not what its pixels, its strip or the ground under it ask for.
bool growsWithAll(const SizeInfo& size) {
  static const std::set<std::string> stay = {
      "pitch", "ring_pitch", "hole_spacing", "jumper", "strip_width", "stake_depth", "end_gap",
      "extra", "stake",      "foot",         "depth",  "row_gap",     "throw"};
  return size.type == SizeType::Length && !stay.contains(size.name);
}

/// One size of one prop on its steps. Steps are counted so that more of them measure more.
class Ladder {
 public:
  Ladder(const FitRequest& request, const SizeInfo& size)
      : request_(request), prop_(request.prop), size_(size), step_(stepOf()) {
    low_ = (size.least + step_ - 1) / step_;
    high_ = size.most / step_;
    const auto stored = prop_.sizes.find(size.name);
    start_ = std::clamp((stored == prop_.sizes.end() ? size.usual : stored->second) / step_, low_, high_);
  }

  /// 1: measures more when the size grows; -1: less; 0: does not follow it near the present value.
  int direction() {
    std::optional<std::int64_t> first, last;
    std::vector<std::int64_t> probes = {start_ / 2, start_ - 1, start_, start_ + 1, start_ * 2, start_ * 4};
    std::sort(probes.begin(), probes.end());
    for (const std::int64_t k : probes) {
      if (k < low_ || k > high_) continue;
      const auto measured = measureAt(k);
      if (!measured) continue;
      if (!first) first = *measured;
      last = *measured;
    }
    if (!first || *first == *last) return 0;
    return *first < *last ? 1 : -1;
  }

  base::Result<Fit> solve();

 private:
  std::int64_t stepOf() const {
    constexpr std::int64_t kDegree = 1'000'000, kThousandth = 1'000, kHundredth = 10'000;
    if (size_.name == kWholeSize) return kHundredth;
    switch (size_.type) {
      case SizeType::Count:
        return 1;
      case SizeType::Angle:
        return kDegree;
      case SizeType::Ratio:
        return kThousandth;
      case SizeType::Length:
        break;
    }
    if (size_.name == "pitch")
      if (const Length hole = holeOf()) return hole.count;
    return tapeStep(request_.units);
  }
  Length holeOf() const {
    yard::Prop complete = usualProp(prop_.kind);
    for (const auto& [name, value] : prop_.sizes) complete.sizes[name] = value;
    for (const auto& [name, option] : prop_.choices) complete.choices[name] = option;
    return holeSpacing(complete);
  }

  base::Result<std::int64_t> measureAt(std::int64_t k) {
    if (size_.name == kWholeSize)
      enlarge(k * step_);
    else
      prop_.sizes[size_.name] = k * step_;
    const auto shape = make(prop_);
    if (!shape) return tl::unexpected(shape.error());
    return measured(*shape, request_.measure);
  }
  /// Path and lines as the request has them, about their first point; lengths on the steps of the tape.
  void enlarge(std::int64_t ratio) {
    const auto all = [ratio](std::vector<Point>& points, Point about) {
      const auto by = [ratio](Length from, Length to) {
        const double far = static_cast<double>((to - from).count) * static_cast<double>(ratio) / 1e6;
        return from + Length{std::llround(far)};
      };
      for (Point& p : points) p = {by(about.x, p.x), by(about.y, p.y)};
    };
    prop_.path = request_.prop.path;
    prop_.lines = request_.prop.lines;
    for (const SizeInfo& size : findKind(prop_.kind)->sizes) {
      if (!growsWithAll(size)) continue;
      const auto own = request_.prop.sizes.find(size.name);
      const double was = static_cast<double>(own == request_.prop.sizes.end() ? size.usual : own->second);
      const std::int64_t tape = tapeStep(request_.units);
      const std::int64_t now =
          std::llround(was * static_cast<double>(ratio) / 1e6 / static_cast<double>(tape)) * tape;
      prop_.sizes[size.name] = std::clamp(now, size.least, size.most);
    }
    if (!prop_.path.empty()) all(prop_.path, request_.prop.path.front());
    for (yard::OwnLine& line : prop_.lines)
      if (!line.points.empty()) all(line.points, request_.prop.lines.front().points.front());
  }
  State stateAt(std::int64_t k) {
    const auto measured = measureAt(k);
    if (measured) return *measured <= request_.limit ? State::Fits : State::Over;
    return measured.error().message.key.starts_with("shape_too_many") ? State::Over : State::Refused;
  }

  /// A step where it fits, at the start or on the way to less; none: even the least is over.
  std::optional<std::int64_t> anyFit(int way);
  /// The last step of the way from `fits` to more that still fits.
  std::int64_t lastFit(std::int64_t fits, int way);
  bool inRange(std::int64_t k) const { return k >= low_ && k <= high_; }
  std::int64_t end(int way) const { return way > 0 ? high_ : low_; }

  const FitRequest& request_;
  yard::Prop prop_;
  const SizeInfo& size_;
  std::int64_t step_, low_ = 0, high_ = 0, start_ = 0;
};

std::optional<std::int64_t> Ladder::anyFit(int way) {
  std::int64_t over = start_;
  State state = stateAt(over);
  if (state == State::Fits) return over;
  std::int64_t less = over;
  for (std::int64_t d = 1; state == State::Over && less != end(-way); d *= 2) {
    over = less;
    less = std::clamp(start_ - way * d, low_, high_);
    state = stateAt(less);
  }
  // Between a step that is refused for being too little and one that is over there may be some that fit.
  while (state == State::Refused && std::abs(over - less) > 1) {
    const std::int64_t middle = less + (over - less) / 2;
    const State there = stateAt(middle);
    if (there == State::Fits) return middle;
    (there == State::Over ? over : less) = middle;
  }
  return state == State::Fits ? std::optional(less) : std::nullopt;
}

std::int64_t Ladder::lastFit(std::int64_t fits, int way) {
  std::int64_t beyond = fits;
  for (std::int64_t d = 1; beyond != end(way); d *= 2) {
    beyond = std::clamp(fits + way * d, low_, high_);
    if (stateAt(beyond) != State::Fits) break;
    fits = beyond;
  }
  if (fits == end(way)) return fits;
  while (std::abs(beyond - fits) > 1) {
    const std::int64_t middle = fits + (beyond - fits) / 2;
    (stateAt(middle) == State::Fits ? fits : beyond) = middle;
  }
  return fits;
}

base::Error nothingFits(const FitRequest& request, const SizeInfo& size) {
  if (request.measure == Measure::Pixels)
    return sizeError(size.name, "fit_too_few_pixels", {{"limit", request.limit}, {"size", size.label}});
  return sizeError(size.name, "fit_too_short", {{"limit", Length{request.limit}}, {"size", size.label}});
}

base::Result<Fit> Ladder::solve() {
  const int way = direction();
  if (way == 0) {
    if (const auto asItStands = measureAt(start_); !asItStands) return tl::unexpected(asItStands.error());
    return tl::unexpected(sizeError(size_.name, "fit_does_not_follow", {{"size", size_.label}}));
  }
  const auto any = anyFit(way);
  if (!any) return tl::unexpected(nothingFits(request_, size_));
  const std::int64_t last = lastFit(*any, way);
  Fit answer;
  if (last != end(way)) {
    answer.nextValue = (last + way) * step_;
    const auto next = measureAt(last + way);
    if (next) answer.nextReached = *next;
    if (!next) answer.nextRefused = next.error();
  }
  answer.reached = *measureAt(last);
  answer.prop = prop_;
  answer.size = size_.name;
  answer.value = last * step_;
  return answer;
}

Length depthOf(const Shape& shape) {
  double near = shape.pixels.front().y, far = near;
  const auto take = [&](const Vec3& p) {
    near = std::min(near, p.y);
    far = std::max(far, p.y);
  };
  for (const Vec3& p : shape.pixels) take(p);
  for (const auto& line : shape.frame)
    for (const Vec3& p : line) take(p);
  return base::toLength({far - near});
}

Length longestStrip(const Shape& shape) {
  Length longest;
  for (const Cut& cut : shape.cuts)
    if (cut.stock == "pixel strip") longest = std::max(longest, cut.length);
  return longest;
}

}  // namespace

std::int64_t measured(const Shape& shape, Measure measure) {
  switch (measure) {
    case Measure::Pixels:
      return static_cast<std::int64_t>(shape.pixels.size());
    case Measure::Width:
      return shape.width.count;
    case Measure::Height:
      return shape.height.count;
    case Measure::Depth:
      return depthOf(shape).count;
    case Measure::Strip:
      break;
  }
  return longestStrip(shape).count;
}

const SizeInfo* fittingSize(const yard::Prop& prop, const std::string& name) {
  static const SizeInfo whole =
      ratioSize(kWholeSize, "The whole of it at", 1000, 10, 10'000, "Of what it is now");
  const Kind* kind = findKind(prop.kind);
  if (!kind) return nullptr;
  if (name == kWholeSize) return &whole;
  for (const SizeInfo& size : kind->sizes)
    if (size.name == name) return &size;
  return nullptr;
}

std::vector<std::string> fittingSizes(const yard::Prop& prop, Measure measure) {
  std::vector<std::string> names;
  const Kind* kind = findKind(prop.kind);
  if (!kind) return names;
  FitRequest request{prop, measure, 0, {}, base::UnitSystem::FeetInches};
  for (const SizeInfo& size : kind->sizes)
    if (Ladder(request, size).direction() != 0)
      names.insert(size.name == "pitch" ? names.begin() : names.end(), size.name);
  if (Ladder(request, *fittingSize(prop, kWholeSize)).direction() != 0) names.emplace_back(kWholeSize);
  return names;
}

base::Message answerOf(const Fit& fit, Measure measure) {
  const auto shape = make(fit.prop);
  const SizeInfo* size = fittingSize(fit.prop, fit.size);
  if (!shape || !size) return {"fit_nothing_to_fit", {}};
  return {measure == Measure::Depth   ? "fit_answer_depth"
          : measure == Measure::Strip ? "fit_answer_strip"
                                      : "fit_answer",
          {{"size", size->label},
           {"value", sizeFact(*size, fit.value)},
           {"pixels", static_cast<std::int64_t>(shape->pixels.size())},
           {"width", shape->width},
           {"height", shape->height},
           {"depth", depthOf(*shape)},
           {"strip", longestStrip(*shape)}}};
}

base::Message nextStepOf(const Fit& fit, Measure measure) {
  const SizeInfo* size = fittingSize(fit.prop, fit.size);
  if (!fit.nextValue || !size) return {"fit_no_next", {}};
  if (!fit.nextReached) return fit.nextRefused ? fit.nextRefused->message : base::Message{"fit_no_next", {}};
  const bool pixels = measure == Measure::Pixels;
  return {pixels ? "fit_next_pixels" : "fit_next_length",
          {{"value", sizeFact(*size, *fit.nextValue)},
           {"reached", pixels ? base::Fact{*fit.nextReached} : base::Fact{Length{*fit.nextReached}}}}};
}

namespace {

/// Pixels: by the first size that can; a length: by the one that comes nearest, the earlier of equals.
base::Result<Fit> byAnySize(const FitRequest& request, const Kind& kind) {
  const std::vector<std::string> names = fittingSizes(request.prop, request.measure);
  if (names.empty()) {
    if (const auto asItStands = make(request.prop); !asItStands) return tl::unexpected(asItStands.error());
    return tl::unexpected(sizeError("kind", "fit_no_size", {{"kind", kind.label}}));
  }
  std::optional<base::Result<Fit>> best;
  for (const std::string& name : names) {
    auto answer = Ladder(request, *fittingSize(request.prop, name)).solve();
    const bool better = answer && best && (!*best || answer->reached > (*best)->reached);
    if (!best || better) best = std::move(answer);
    if (request.measure == Measure::Pixels && *best) break;
  }
  // No size helps a prop that cannot be made as it stands: that is what is wrong with it.
  if (const auto asItStands = make(request.prop); !*best && !asItStands)
    return tl::unexpected(asItStands.error());
  return *best;
}

}  // namespace

base::Result<Fit> fit(const FitRequest& request) {
  const Kind* kind = findKind(request.prop.kind);
  if (!kind) return tl::unexpected(make(request.prop).error());
  if (request.limit <= 0) return tl::unexpected(sizeError("limit", "fit_nothing_to_fit"));
  if (request.size.empty()) return byAnySize(request, *kind);
  const std::string& name = request.size;
  const SizeInfo* size = fittingSize(request.prop, name);
  if (!size) {
    yard::Prop asked = request.prop;  // make() has the words for a size that is not there
    asked.sizes[name] = 0;
    return tl::unexpected(make(asked).error());
  }
  return Ladder(request, *size).solve();
}

base::Result<Fit> matchStrips(const yard::Prop& prop, std::int64_t strips, std::int64_t each,
                              const std::string& size, base::UnitSystem units) {
  FitRequest request{prop, Measure::Pixels, 0, size, units};
  if (strips <= 0 || each <= 0 || strips > kMostPixels || each > kMostPixels)
    return tl::unexpected(sizeError("strips", "fit_nothing_to_fit"));
  request.prop.sizes["strips"] = strips;
  request.limit = strips * each;
  return fit(request);
}

base::Result<std::int64_t> roomOnPort(const yard::Yard& yard, yard::Id portId) {
  const auto* port = yard::find<yard::Port>(yard, portId);
  const auto* controller = port ? yard::find<yard::Controller>(yard, port->owner) : nullptr;
  const auto* receiver = port ? yard::find<yard::Receiver>(yard, port->owner) : nullptr;
  if (!controller && !receiver) return tl::unexpected(sizeError("port", "fit_no_such_port"));
  std::int64_t room = controller ? controller->pixelsPerPort : receiver->pixelsPerPort;
  for (const auto& [id, run] : yard::all<yard::Run>(yard)) {
    if (run->port != portId) continue;
    for (const yard::RunItem& item : run->items) {
      if (item.kind == yard::RunItemKind::NullPixel || item.kind == yard::RunItemKind::Unused)
        room -= item.count;
      const auto* prop = yard::find<yard::Prop>(yard, item.prop);
      if (item.kind != yard::RunItemKind::Stretch || !prop) continue;
      if (item.last > 0) {
        room -= item.last - item.first + 1;
      } else if (const auto shape = make(*prop)) {
        room -= static_cast<std::int64_t>(shape->pixels.size());
      }
    }
  }
  return std::max<std::int64_t>(0, room);
}

}  // namespace yw::shapes
