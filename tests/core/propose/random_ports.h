#pragma once
// Invented port jobs: props strewn over a yard, sites among them. The same everywhere for one seed.
#include <cmath>
#include <limits>
#include <random>

#include "core/propose/port_plan.h"

namespace yw::propose {

inline PortJob randomPorts(std::uint32_t seed, std::int32_t parts, std::int32_t sites, std::int32_t ports,
                           double side = 0.0, double opening = 0.0) {
  std::mt19937 engine(seed);
  const auto draw = [&](double low, double high) { return low + (high - low) * (engine() / 4294967296.0); };
  struct Place {
    double x, y;
  };
  const double width = side > 0 ? side : 5.0 * std::sqrt(static_cast<double>(parts));
  std::vector<Place> ends;
  PortJob job;
  const int families = seed % 3 == 0 ? 2 : 1;
  std::int64_t pixels = 0;
  for (std::int32_t p = 0; p < parts; ++p) {
    const Place in{draw(0, width), draw(0, width)};
    ends.push_back(in);
    ends.push_back({in.x + draw(-2, 2), in.y + draw(-2, 2)});
    PortPart part;
    part.pixels = static_cast<std::int64_t>(draw(40, 300));
    part.amps = static_cast<double>(part.pixels) * 0.0134;
    part.family = static_cast<std::int32_t>(engine() % static_cast<std::uint32_t>(families));
    pixels += part.pixels;
    job.parts.push_back(part);
  }
  job.familyPixels.assign(static_cast<std::size_t>(families), 800);
  job.portCost = 4.0;
  job.ampsCost = seed % 2 == 0 ? 2.0 : -1.0;
  const auto apart = [](Place a, Place b) { return std::hypot(a.x - b.x, a.y - b.y); };
  const double infinity = std::numeric_limits<double>::infinity();
  for (std::int32_t s = 0; s < sites; ++s) {
    const Place at{draw(0, width), draw(0, width)};
    PortSite site;
    site.ports = ports;
    site.pixels = 680;
    site.amps = job.ampsCost < 0 ? 8.0 : 3.0;
    site.bankAmps = draw(0.5, 1.2) * 3.2 * ports;
    site.owner = s;
    site.takes.assign(static_cast<std::size_t>(families), true);
    job.sites.push_back(site);
    job.opening.push_back(opening);
    job.lead.emplace_back();
    for (const Place end : ends) {
      const double length = apart(at, end);
      job.lead.back().push_back(length <= width * 0.9 ? 2.0 + 1.2 * length : infinity);
    }
  }
  for (std::size_t a = 0; a < ends.size(); ++a) {
    job.jumper.emplace_back();
    for (std::size_t b = 0; b < ends.size(); ++b) {
      // Data leaves a part at its other end; node n is entered at ends[n].
      const double length = apart(ends[a ^ 1], ends[b]);
      job.jumper.back().push_back(a / 2 != b / 2 && length <= 7.0 ? 1.0 + 1.2 * length : infinity);
    }
  }
  return job;
}

}  // namespace yw::propose
