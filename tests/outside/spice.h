#pragma once
// Runs the SPICE simulator on a deck and compares every pixel's volts.
#include <unistd.h>
#include <charconv>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>

#include "core/circuit/network.h"

namespace yw::checks {

inline std::string commandOutput(const std::string& command) {
  std::string out;
  std::FILE* pipe = popen(command.c_str(), "r");
  if (!pipe) return out;
  char buffer[65536];
  for (std::size_t got; (got = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) out.append(buffer, got);
  pclose(pipe);
  return out;
}

struct SpiceRun {
  bool ran = false;
  std::string text;
  std::map<std::int32_t, double> volts;  ///< by node number
  double analysisSeconds = 0.0;
};

/// Node volts of `deck`, from the simulator's `print all`.
inline SpiceRun runSpice(const std::string& deck) {
  std::string name = "/tmp/yardwright-deck-XXXXXX";
  const int file = mkstemp(name.data());
  if (file < 0) return {};
  close(file);
  std::ofstream(name) << deck;
  SpiceRun run;
  run.text = commandOutput("LC_ALL=C ngspice -b " + name + " 2>/dev/null");
  std::remove(name.c_str());
  std::istringstream lines(run.text);
  for (std::string line; std::getline(lines, line);) {
    const auto number = [&](std::size_t from, auto& value) {
      while (from < line.size() && line[from] == ' ') ++from;
      return std::from_chars(line.data() + from, line.data() + line.size(), value).ec == std::errc();
    };
    const std::size_t equals = line.find(" = ");
    std::int32_t node = 0;
    double volts = 0.0;
    if (line.starts_with("n") && equals != std::string::npos && number(1, node) && number(equals + 3, volts))
      run.volts[node] = volts;
    const std::string analysis = "Total analysis time (seconds) = ";
    if (line.starts_with(analysis)) number(analysis.size(), run.analysisSeconds);
  }
  run.ran = !run.volts.empty();
  return run;
}

/// Largest difference of any node's volts (both rails of every fed pixel, and every free node that a source
/// reaches) and of any pixel's volts between `solution` and the simulator; none if it did not run.
inline std::optional<double> spiceDifference(const circuit::Network& n, const circuit::Solution& s) {
  const SpiceRun run = runSpice(circuit::spiceDeck(n));
  if (!run.ran) return std::nullopt;
  double worst = 0.0;
  for (std::size_t c = 0; c < n.chains.size(); ++c)
    for (std::size_t k = 0; k < n.chains[c].load.size(); ++k) {
      if (!s.fed[c][k]) continue;
      const auto p = run.volts.find(n.positiveNode(c, k)), z = run.volts.find(n.zeroNode(c, k));
      if (p == run.volts.end() || z == run.volts.end()) return std::nullopt;
      worst = std::fmax(worst, std::abs(p->second - z->second - s.volts[c][k]));
      worst = std::fmax(worst, std::abs(z->second - s.zeroVolts[c][k]));
    }
  for (const circuit::Source& source : n.sources)
    for (const std::int32_t node : {source.positive, source.zero}) {
      if (node >= n.extraNodes) continue;
      const auto at = run.volts.find(node);
      if (at == run.volts.end()) return std::nullopt;
      worst = std::fmax(worst, std::abs(at->second - s.nodeVolts[static_cast<std::size_t>(node)]));
    }
  return worst;
}

}  // namespace yw::checks
