#include "core/circuit/fit.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/catalog/conductors.h"
#include "core/circuit/normal.h"

namespace yw::circuit {

namespace {

using yard::TerminalKind;

constexpr int kMostSteps = 12;
constexpr double kFarthest = 6.0;    ///< standard deviations an unknown may move
constexpr double kSmallStep = 1e-3;  ///< for slopes
constexpr double kNearEnough = 1e-7;
/// The last digit of a usual hand meter, read to one count: 10 mV and 10 mA. From memory.
constexpr double kLeastVolts = 0.01, kLeastAmps = 0.01;

/// Where a reading is taken in a part.
struct Spot {
  std::size_t part = 0;
  std::ptrdiff_t chain = -1;  ///< volts across a pixel
  std::size_t pixel = 0;
  std::ptrdiff_t segment = -1;                 ///< amps in V+ before that pixel
  std::ptrdiff_t conductor = -1, source = -1;  ///< or in these
  std::int32_t positive = -1, zero = -1;       ///< volts between nodes
};

class Fitter {
 public:
  Fitter(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts)
      : yard_(yard), shapes_(shapes), routes_(routes), layouts_(layouts), settings_(yard::settings(yard)) {}

  Fit make() {
    for (const auto& [id, m] : yard::all<yard::Measurement>(yard_)) read(id, *m);
    if (used().empty()) return std::move(out_);
    const UncertainYard& any = at_.begin()->second;
    n_ = any.unknowns.size();
    solveFor();
    for (bool dropped = true; dropped;) {
      dropped = dropWorst();
      if (dropped) solveFor();
    }
    finish(any);
    return std::move(out_);
  }

 private:
  struct Entry {
    std::size_t reading = 0;
    std::int64_t brightness = 0;
    Spot spot;
    double sigma2 = 0.0;  ///< variance of the meter and of own differences
    double value = 0.0;   ///< by the model at z_
    std::vector<double> slope;
  };

  const UncertainYard& under(std::int64_t brightness) {
    const auto known = at_.find(brightness);
    if (known != at_.end()) return known->second;
    yard::Yard copy = yard_;
    yard::Settings settings = settings_;
    settings.brightnessLimit = {brightness};
    copy.records[yard::settingsId(yard_)] = std::make_shared<const yard::Record>(settings);
    UncertainYard made = uncertain(copy, shapes_, routes_, layouts_);
    // What is not a record of its own cannot be taught.
    for (std::size_t i = 0; i < made.unknowns.size(); ++i)
      if (made.unknowns[i] == Unknown{UnknownKind::WireResistance, {}}) made.sigma[i] = 0.0;
    return at_.emplace(brightness, std::move(made)).first->second;
  }

  void read(Id id, const yard::Measurement& m) {
    Reading reading;
    reading.measurement = id;
    if (m.volts.count <= 0 && m.amps.count <= 0) {
      reading.state = Reading::State::NoFigure;
      out_.readings.push_back(reading);
      return;
    }
    const UncertainYard& all = under(m.brightness.count);
    const std::optional<Spot> spot = spotOf(all, m.at, reading);
    for (const bool volts : {true, false}) {
      if ((volts ? m.volts.count : m.amps.count) <= 0) continue;
      Reading one = reading;
      one.volts = volts;
      one.measured = volts ? base::volts(m.volts).si : base::amps(m.amps).si;
      one.state = spot && hasFigure(*spot, volts) ? Reading::State::Used : Reading::State::NotWired;
      if (one.state == Reading::State::Used) add(all, m.brightness.count, *spot, one);
      out_.readings.push_back(one);
    }
  }

  static bool hasFigure(const Spot& s, bool volts) {
    return volts ? s.chain >= 0 || s.positive >= 0 : s.segment >= 0 || s.conductor >= 0 || s.source >= 0;
  }

  void add(const UncertainYard& all, std::int64_t brightness, const Spot& spot, Reading& one) {
    const JoinedPart& part = all.parts[spot.part];
    const std::vector<double> z(all.unknowns.size(), 0.0);
    const Network network = all.at(part, z);
    const Solution s = solve(network);
    Entry entry;
    entry.reading = out_.readings.size();
    entry.brightness = brightness;
    entry.spot = spot;
    one.planned = one.expected = valueOf(spot, s, one.volts);
    if (one.planned <= 0.0) {
      one.state = Reading::State::NotFed;
      return;
    }
    const double meter =
        base::fraction(one.volts ? settings_.meterVolts : settings_.meterAmps) * one.measured;
    const double sigma = std::max(meter, one.volts ? kLeastVolts : kLeastAmps) / kNineteenInTwenty;
    entry.sigma2 = sigma * sigma;
    if (one.volts && spot.chain >= 0) {
      const Sensitivity own =
          sensitivity(all, part, z, network, s, static_cast<std::size_t>(spot.chain), spot.pixel);
      entry.sigma2 += own.eachPixel * own.eachPixel + own.eachJoint * own.eachJoint;
    }
    entries_.push_back(std::move(entry));
  }

  std::optional<Spot> pixelSpot(const UncertainYard& all, Id prop, std::int64_t pixel, Reading& reading) {
    for (const auto& [run, at] : all.runPlace) {
      const auto& pixels = layouts_.at(run)->pixels;
      for (std::size_t k = 0; k < pixels.size(); ++k) {
        if (pixels[k].prop != prop || pixels[k].pixel != pixel) continue;
        reading.run = run;
        reading.place = static_cast<std::int64_t>(k) + 1;
        Spot spot;
        spot.part = at.first;
        spot.chain = static_cast<std::ptrdiff_t>(at.second);
        spot.pixel = k;
        if (k > 0)
          spot.segment = static_cast<std::ptrdiff_t>(k);
        else if (const auto lead = all.net.leads.find(run); lead != all.net.leads.end())
          spot.conductor = inPart(all.parts[at.first].conductors, lead->second.positive);
        return spot;
      }
    }
    return {};
  }

  template <class List, class Number>
  static std::ptrdiff_t inPart(const List& list, Number number) {
    if (number < 0) return -1;
    const auto it = std::find(list.begin(), list.end(), static_cast<typename List::value_type>(number));
    return it == list.end() ? -1 : it - list.begin();
  }

  /// The part where both of a place's nodes are, with them.
  static bool nodes(const UncertainYard& all, std::int32_t positive, std::int32_t zero, Spot& spot) {
    for (std::size_t p = 0; p < all.parts.size(); ++p) {
      const auto a = inPart(all.parts[p].extraNode, positive), b = inPart(all.parts[p].extraNode, zero);
      if (a < 0 || b < 0) continue;
      spot.part = p;
      spot.positive = static_cast<std::int32_t>(a);
      spot.zero = static_cast<std::int32_t>(b);
      return true;
    }
    return false;
  }

  std::optional<Spot> spotOf(const UncertainYard& all, const yard::Terminal& at, Reading& reading) {
    Spot spot;
    switch (at.kind) {
      case TerminalKind::PropPixel:
        return pixelSpot(all, at.record, at.pixel, reading);
      case TerminalKind::PropIn:
        return pixelSpot(all, at.record, 1, reading);
      case TerminalKind::PropOut: {
        const auto shape = shapes_.find(at.record);
        if (shape == shapes_.end()) return {};
        return pixelSpot(all, at.record, static_cast<std::int64_t>(shape->second->pixels.size()), reading);
      }
      case TerminalKind::Port: {
        const auto lead = all.net.leads.find(yard::runOnPort(yard_, at.record));
        if (lead == all.net.leads.end() || lead->second.positive < 0) return {};
        const auto& conductors = all.net.built.network.conductors;
        const auto end = [&](std::int32_t c) { return conductors[static_cast<std::size_t>(c)].a; };
        if (!nodes(all, end(lead->second.positive), end(lead->second.zero), spot)) return {};
        spot.conductor = inPart(all.parts[spot.part].conductors, lead->second.positive);
        return spot;
      }
      case TerminalKind::FusePosition:
        for (const auto& [cable, end] : all.net.feeds) {
          if (end.fusePosition != at.record) continue;
          if (!nodes(all, end.atFuse.positive, end.atFuse.zero, spot)) return {};
          const auto rails = all.net.cables.find({routes::CableRole::Feed, cable, 0});
          if (rails != all.net.cables.end())
            spot.conductor = inPart(all.parts[spot.part].conductors, rails->second.positive);
          return spot;
        }
        return {};
      case TerminalKind::Supply: {
        const auto source = all.net.sourceOf.find(at.record);
        if (source == all.net.sourceOf.end()) return {};
        const Source& s = all.net.built.network.sources[source->second];
        if (!nodes(all, s.positive, s.zero, spot)) return {};
        spot.source = inPart(all.parts[spot.part].sources, static_cast<std::ptrdiff_t>(source->second));
        return spot;
      }
      default:
        return {};
    }
  }

  static double valueOf(const Spot& s, const Solution& solution, bool volts) {
    if (volts && s.chain >= 0) return solution.volts[static_cast<std::size_t>(s.chain)][s.pixel];
    if (volts)
      return solution.nodeVolts[static_cast<std::size_t>(s.positive)] -
             solution.nodeVolts[static_cast<std::size_t>(s.zero)];
    if (s.segment >= 0) return std::abs(solution.positiveAmps[static_cast<std::size_t>(s.chain)][s.pixel]);
    if (s.conductor >= 0) return std::abs(solution.conductorAmps[static_cast<std::size_t>(s.conductor)]);
    return solution.sourceAmps[static_cast<std::size_t>(s.source)];
  }

  std::vector<Entry*> used() {
    std::vector<Entry*> list;
    for (Entry& e : entries_)
      if (out_.readings[e.reading].state == Reading::State::Used) list.push_back(&e);
    return list;
  }

  /// Values and, if asked for, slopes of all entries at z.
  void evaluateAt(const std::vector<double>& z, bool slopes) {
    std::map<std::pair<std::int64_t, std::size_t>, std::vector<Entry*>> groups;
    for (Entry& e : entries_) groups[{e.brightness, e.spot.part}].push_back(&e);
    for (auto& [key, group] : groups) {
      const UncertainYard& all = at_.at(key.first);
      const JoinedPart& part = all.parts[key.second];
      const auto values = [&](const std::vector<double>& where, auto&& put) {
        const Solution s = solve(all.at(part, where));
        for (Entry* e : group) put(*e, valueOf(e->spot, s, out_.readings[e->reading].volts));
      };
      values(z, [](Entry& e, double v) { e.value = v; });
      if (!slopes) continue;
      for (Entry* e : group) e->slope.assign(n_, 0.0);
      for (const std::size_t u : part.unknowns) {
        if (all.sigma[u] == 0.0) continue;
        std::vector<double> moved = z;
        moved[u] += kSmallStep;
        values(moved, [&](Entry& e, double v) { e.slope[u] = (v - e.value) / kSmallStep; });
      }
    }
  }

  double objective(const std::vector<double>& z) {
    evaluateAt(z, false);
    double sum = 0.0;
    for (const double x : z) sum += x * x;
    for (const Entry* e : used()) {
      const double r = out_.readings[e->reading].measured - e->value;
      sum += r * r / e->sigma2;
    }
    return sum;
  }

  std::vector<double> precision() {
    std::vector<double> a(n_ * n_, 0.0);
    for (std::size_t i = 0; i < n_; ++i) a[i * n_ + i] = 1.0;
    for (const Entry* e : used())
      for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = 0; j < n_; ++j) a[i * n_ + j] += e->slope[i] * e->slope[j] / e->sigma2;
    return a;
  }

  std::vector<double> solved(const std::vector<double>& root, std::vector<double> b) const {
    for (std::size_t i = 0; i < n_; ++i) {
      for (std::size_t k = 0; k < i; ++k) b[i] -= root[i * n_ + k] * b[k];
      b[i] /= root[i * n_ + i];
    }
    for (std::size_t i = n_; i-- > 0;) {
      for (std::size_t k = i + 1; k < n_; ++k) b[i] -= root[k * n_ + i] * b[k];
      b[i] /= root[i * n_ + i];
    }
    return b;
  }

  /// Gauss-Newton from the planned figures; a step that makes it worse is halved.
  void solveFor() {
    z_.assign(n_, 0.0);
    double now = objective(z_);
    for (int step = 0; step < kMostSteps && !used().empty(); ++step) {
      evaluateAt(z_, true);
      std::vector<double> b(n_, 0.0);
      for (const Entry* e : used()) {
        double r = out_.readings[e->reading].measured - e->value;
        for (std::size_t i = 0; i < n_; ++i) r += e->slope[i] * z_[i];
        for (std::size_t i = 0; i < n_; ++i) b[i] += e->slope[i] * r / e->sigma2;
      }
      const std::vector<double> aim = solved(choleskyOf(precision(), n_), b);
      double share = 1.0, moved = 0.0;
      std::vector<double> next = z_;
      for (int half = 0; half < 8; ++half, share *= 0.5) {
        moved = 0.0;
        for (std::size_t i = 0; i < n_; ++i) {
          next[i] = std::clamp(z_[i] + share * (aim[i] - z_[i]), -kFarthest, kFarthest);
          moved = std::max(moved, std::abs(next[i] - z_[i]));
        }
        const double then = objective(next);
        if (then <= now) {
          now = then;
          break;
        }
        next = z_;
        moved = 0.0;
      }
      z_ = next;
      ++out_.steps;
      if (moved < kNearEnough) break;
    }
    evaluateAt(z_, true);
    const std::vector<double> root = choleskyOf(precision(), n_);
    covariance_.assign(n_ * n_, 0.0);
    for (std::size_t i = 0; i < n_; ++i) {
      std::vector<double> unit(n_, 0.0);
      unit[i] = 1.0;
      const std::vector<double> column = solved(root, unit);
      for (std::size_t j = 0; j < n_; ++j) covariance_[j * n_ + i] = column[j];
    }
  }

  /// Variance of an entry's value by the model.
  double variance(const Entry& e) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < n_; ++i)
      for (std::size_t j = 0; j < n_; ++j) sum += e.slope[i] * covariance_[i * n_ + j] * e.slope[j];
    return sum;
  }

  bool dropWorst() {
    Entry* worst = nullptr;
    double most = kDoesNotFit;
    for (Entry* e : used()) {
      const double left = std::max(e->sigma2 - variance(*e), 1e-9 * e->sigma2);
      const double off = std::abs(out_.readings[e->reading].measured - e->value) / std::sqrt(left);
      if (off > most) {
        most = off;
        worst = e;
      }
    }
    if (worst != nullptr) out_.readings[worst->reading].state = Reading::State::DoesNotFit;
    return worst != nullptr;
  }

  void finish(const UncertainYard& any) {
    for (Entry& e : entries_) {
      Reading& r = out_.readings[e.reading];
      r.expected = e.value;
      const bool in = r.state == Reading::State::Used;
      const double of = in ? std::max(e.sigma2 - variance(e), 1e-9 * e.sigma2) : e.sigma2 + variance(e);
      r.deviation = std::sqrt(of);
      r.off = (r.measured - r.expected) / r.deviation;
    }
    if (used().empty()) return;
    out_.z = z_;
    out_.sigma = any.sigma;
    out_.belief = {any.unknowns, covariance_};
  }

  const yard::Yard& yard_;
  const Shapes& shapes_;
  const Routes& routes_;
  const Layouts& layouts_;
  const yard::Settings& settings_;
  Fit out_;
  std::map<std::int64_t, UncertainYard> at_;  ///< by brightness
  std::vector<Entry> entries_;
  std::size_t n_ = 0;
  std::vector<double> z_, covariance_;
};

template <class R>
void replace(yard::Yard& yard, Id id, R record) {
  yard.records[id] = std::make_shared<const yard::Record>(std::move(record));
}

}  // namespace

bool Fit::taught(const Unknown& unknown) const {
  const auto at = std::lower_bound(belief.unknowns.begin(), belief.unknowns.end(), unknown);
  if (at == belief.unknowns.end() || *at != unknown) return false;
  const auto i = static_cast<std::size_t>(at - belief.unknowns.begin());
  return belief.covariance[i * belief.unknowns.size() + i] < 0.5;
}

Fit fit(const yard::Yard& yard, const Shapes& shapes, const Routes& routes, const Layouts& layouts) {
  return Fitter(yard, shapes, routes, layouts).make();
}

yard::Yard taughtYard(const yard::Yard& yard, const Fit& fit) {
  yard::Yard out = yard;
  const auto rounded = [](auto exact, double factor) {
    exact.count = base::roundedCount(static_cast<double>(exact.count) * factor);
    return exact;
  };
  for (std::size_t i = 0; i < fit.belief.unknowns.size(); ++i) {
    const Unknown& u = fit.belief.unknowns[i];
    const double step = fit.sigma[i] * fit.z[i];
    const bool taught = fit.taught(u);
    if (step == 0.0 && !taught) continue;
    const double factor = seriesExp(step);
    if (const auto* product = yard::find<yard::Product>(yard, u.of)) {
      yard::Product with = *product;
      with.idle = rounded(with.idle, factor);
      with.fullWhite = rounded(with.fullWhite, factor);
      if (taught) with.origin = yard::Origin::Measured;
      replace(out, u.of, std::move(with));
    } else if (const auto* wire = yard::find<yard::Wire>(yard, u.of)) {
      yard::Wire with = *wire;
      const double ohms = routes::resistancePerMetre(*wire, yard::settings(yard)).si;
      const double warm = catalog::temperatureFactor(yard::settings(yard).wireTemperature);
      with.perMetre.count = std::max<std::int64_t>(1, base::roundedCount(1e6 * ohms * factor / warm));
      replace(out, u.of, std::move(with));
    } else if (const auto* supply = yard::find<yard::Supply>(yard, u.of)) {
      yard::Supply with = *supply;
      with.voltage = rounded(with.voltage, 1.0 + step);
      replace(out, u.of, std::move(with));
    } else if (u.kind == UnknownKind::JointResistance) {
      yard::Settings with = yard::settings(yard);
      with.jointResistance = rounded(with.jointResistance, factor);
      replace(out, yard::settingsId(yard), std::move(with));
    }
  }
  return out;
}

}  // namespace yw::circuit
