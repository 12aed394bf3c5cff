#include "core/catalog/conductors.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace yw::catalog {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr double kMetresPerThousandFeet = 304.8;

struct GaugeAmps {
  int awg;
  std::int64_t amps;
};
template <std::size_t N>
std::optional<base::Current> ofGauge(const std::array<GaugeAmps, N>& table, int awg) {
  const auto row = std::find_if(table.begin(), table.end(), [&](const GaugeAmps& r) { return r.awg == awg; });
  if (row == table.end()) return std::nullopt;
  return base::Current{row->amps * 1'000'000};
}

struct UsualLimit {
  int awg;
  double amps;
  const char* source;
};
// 18 to 10 AWG: the lowest of cord column B, fixture wire and ordinary breaker. 24 to 20 AWG: the bundle
// figure.
constexpr std::array<UsualLimit, 8> kUsualLimits{
    {{10, 28.0, "NEC Table 402.5 (fixture wire, 10 AWG)"},
     {12, 20.0, "NEC 240.4(D)(5) (12 AWG)"},
     {14, 15.0, "NEC 240.4(D)(3) (14 AWG)"},
     {16, 8.0, "NEC Table 402.5 (fixture wire, 16 AWG)"},
     {18, 6.0, "NEC Table 402.5 (fixture wire, 18 AWG)"},
     {20, 4.0, "FAA AC 43.13-1B Table 11-9 (wires in a bundle, 20 AWG)"},
     {22, 3.0, "FAA AC 43.13-1B Table 11-9 (wires in a bundle, 22 AWG)"},
     {24, 2.5, "FAA AC 43.13-1B Table 11-9 (wires in a bundle, 24 AWG)"}}};

const UsualLimit* usualRow(int awg) {
  if (awg < kUsualLimits.front().awg) return nullptr;
  const auto row = std::find_if(kUsualLimits.begin(), kUsualLimits.end(),
                                [&](const UsualLimit& r) { return r.awg >= awg; });
  return row == kUsualLimits.end() ? nullptr : &*row;
}

struct Blade {
  std::int64_t milliamps;
  const char* color;
};
constexpr std::array<Blade, 12> kBlades{{{1'000, "black"},
                                         {2'000, "gray"},
                                         {3'000, "violet"},
                                         {4'000, "pink"},
                                         {5'000, "tan"},
                                         {7'500, "brown"},
                                         {10'000, "red"},
                                         {15'000, "blue"},
                                         {20'000, "yellow"},
                                         {25'000, "clear"},
                                         {30'000, "green"},
                                         {40'000, "orange"}}};

}  // namespace

base::Metres conductorDiameter(int awg) { return {0.000127 * std::pow(92.0, (36.0 - awg) / 39.0)}; }

base::SquareMetres conductorArea(int awg) {
  const base::Metres d = conductorDiameter(awg);
  return d * d * (kPi / 4.0);
}

base::OhmsPerMetre copperResistance(int awg) { return {1e-6 / 58.0 / conductorArea(awg).si}; }

double temperatureFactor(base::Temperature temperature) {
  return 1.0 + kCopperPerKelvin * (base::celsius(temperature) - 20.0);
}

std::optional<base::OhmsPerMetre> strandedResistanceAt75(int awg) {
  struct Row {
    int awg;
    double ohmsPerThousandFeet;
  };
  constexpr std::array<Row, 5> kTable8{{{18, 7.95}, {16, 4.99}, {14, 3.14}, {12, 1.98}, {10, 1.24}}};
  const auto row = std::find_if(kTable8.begin(), kTable8.end(), [&](const Row& r) { return r.awg == awg; });
  if (row == kTable8.end()) return std::nullopt;
  return base::OhmsPerMetre{row->ohmsPerThousandFeet / kMetresPerThousandFeet};
}

base::OhmsPerMetre table8At(base::OhmsPerMetre at75, base::Temperature temperature) {
  return at75 * (1.0 + kTable8PerKelvin * (base::celsius(temperature) - 75.0));
}

std::optional<base::Amps> usualLimit(int awg) {
  const UsualLimit* row = usualRow(awg);
  if (!row) return std::nullopt;
  return base::Amps{row->amps};
}

const char* usualLimitSource(int awg) {
  const UsualLimit* row = usualRow(awg);
  return row ? row->source : "";
}

std::optional<base::Current> largestFuse(int awg) {
  constexpr std::array<GaugeAmps, 5> kTable{{{18, 7}, {16, 10}, {14, 15}, {12, 20}, {10, 30}}};
  return ofGauge(kTable, awg);
}

std::optional<base::Current> cordLimit(int awg) {
  constexpr std::array<GaugeAmps, 5> kTable{{{18, 10}, {16, 13}, {14, 18}, {12, 25}, {10, 30}}};
  return ofGauge(kTable, awg);
}

std::optional<base::Current> cordSetLimit(int awg, base::Length length) {
  constexpr std::array<GaugeAmps, 4> kShort{{{16, 13}, {14, 15}, {12, 20}, {10, 20}}};
  constexpr std::array<GaugeAmps, 4> kLong{{{16, 10}, {14, 13}, {12, 15}, {10, 20}}};
  return ofGauge(length <= base::feet(50) ? kShort : kLong, awg);
}

const std::vector<base::Current>& fuseSeries() {
  static const std::vector<base::Current> series = [] {
    std::vector<base::Current> all;
    for (const Blade& blade : kBlades) all.push_back({blade.milliamps * 1'000});
    return all;
  }();
  return series;
}

const char* fuseColor(base::Current rating) {
  for (const Blade& blade : kBlades)
    if (blade.milliamps * 1'000 == rating.count) return blade.color;
  return "";
}

base::Current smallestFuse(base::Amps load, double usable) {
  // Compared on stored counts, so that a load at the very edge is judged the same everywhere.
  const std::int64_t needed = base::toCurrent(load).count;
  for (const base::Current& fuse : fuseSeries())
    if (base::roundedCount(static_cast<double>(fuse.count) * usable) >= needed) return fuse;
  return {0};
}

base::Current largestFuseUpTo(base::Amps most) {
  const base::Current counted = base::toCurrent(most);  // as the ratings are
  base::Current largest{0};
  for (const base::Current& fuse : fuseSeries())
    if (fuse <= counted) largest = fuse;
  return largest;
}

}  // namespace yw::catalog
