#pragma once
// Ports as a choice among chains, solved by the cbc program of Debian: its own listing of chains, its own
// solver, nothing shared with core/propose but the figures.
#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "core/propose/port_plan.h"

namespace yw::propose {

/// Least cost over 0/1 variables; each row: sum of factor · variable, at most or equal to a figure.
struct ZeroOne {
  struct Row {
    std::vector<std::pair<std::size_t, double>> terms;
    bool equal = false;
    double right = 0.0;
  };
  std::vector<double> cost;
  std::vector<Row> rows;
};

struct OutsideAnswer {
  bool ran = false;       ///< the program is there
  bool solved = false;    ///< and came to an end in its time
  bool feasible = false;  ///< and a choice exists
  double cost = 0.0;
};

inline std::string asLp(const ZeroOne& problem) {
  std::string lp = "Minimize\n cost:";
  for (std::size_t v = 0; v < problem.cost.size(); ++v)
    lp += fmt::format("{} {:+.17g} x{}", v % 8 == 7 ? "\n" : "", problem.cost[v], v);
  lp += "\nSubject To\n";
  for (std::size_t r = 0; r < problem.rows.size(); ++r) {
    lp += fmt::format(" r{}:", r);
    std::size_t count = 0;
    for (const auto& [v, factor] : problem.rows[r].terms)
      lp += fmt::format("{} {:+.17g} x{}", ++count % 8 == 0 ? "\n" : "", factor, v);
    lp += fmt::format(" {} {:.17g}\n", problem.rows[r].equal ? "=" : "<=", problem.rows[r].right);
  }
  lp += "Binaries\n";
  for (std::size_t v = 0; v < problem.cost.size(); ++v) lp += fmt::format(" x{}\n", v);
  return lp + "End\n";
}

/// By the program `cbc` (package coinor-cbc), gap 0.
inline OutsideAnswer solveOutside(const ZeroOne& problem) {
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / fmt::format("yw-outside-{}", getpid());
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "ports.lp") << asLp(problem);
  const std::string command = fmt::format(
      "cd '{}' && cbc ports.lp preprocess off sec 8 ratioGap 0 allowableGap 0 solve solution answer.txt "
      ">log.txt 2>&1",
      folder.string());
  OutsideAnswer answer;
  if (std::system(command.c_str()) == 0) {
    std::ifstream in(folder / "answer.txt");
    std::string line, word, last;
    std::getline(in, line);
    answer.ran = !line.empty();
    answer.feasible = line.starts_with("Optimal");
    answer.solved =
        answer.feasible || line.starts_with("Infeasible") || line.starts_with("Integer infeasible");
    // Its objective is printed with eight decimals only: summed again from the variables that are 1.
    while (answer.feasible && std::getline(in, line)) {
      std::istringstream words(line);
      std::string name, value;
      words >> word;
      if (word == "**") words >> word;
      words >> name >> value;
      std::size_t variable = 0;
      if (name.empty() || name[0] != 'x' || value != "1") continue;
      std::from_chars(name.data() + 1, name.data() + name.size(), variable);
      answer.cost += problem.cost.at(variable);
    }
  }
  std::filesystem::remove_all(folder);
  return answer;
}

/// Every chain that one port of a site can carry, by sets of parts, each in its cheapest order.
class ChainList {
 public:
  explicit ChainList(const PortJob& job) : job_(job) {}

  /// `missing` >= 0: a part may be left out at that price.
  ZeroOne problem(double missing = -1.0) {
    ZeroOne out;
    std::vector<ZeroOne::Row> part(job_.parts.size()), ports(job_.sites.size()), banks(job_.sites.size());
    for (std::size_t s = 0; s < job_.sites.size(); ++s) {
      cheapest_.clear();
      std::vector<std::size_t> chain;
      for (std::size_t node = 0; node < job_.parts.size() * 2; ++node)
        extend(s, chain, node, job_.portCost + job_.lead[s][node]);
      for (const auto& [set, cost] : cheapest_) {
        const std::size_t v = out.cost.size();
        out.cost.push_back(cost);
        double amps = 0.0;
        for (std::size_t p = 0; p < job_.parts.size(); ++p)
          if ((set >> p & 1U) != 0) part[p].terms.emplace_back(v, 1.0), amps += job_.parts[p].amps;
        ports[s].terms.emplace_back(v, 1.0);
        const bool all = job_.ampsCost < 0 || job_.bankTakesAll;
        banks[s].terms.emplace_back(v, all ? amps : std::min(amps, job_.sites[s].amps));
      }
      ports[s].right = job_.sites[s].ports;
      banks[s].right = job_.sites[s].bankAmps;
    }
    for (ZeroOne::Row& row : part) {
      if (missing >= 0) row.terms.emplace_back(out.cost.size(), 1.0), out.cost.push_back(missing);
      row.equal = true;
      row.right = 1.0;
      out.rows.push_back(row);
    }
    for (const auto* rows : {&ports, &banks})
      for (const ZeroOne::Row& row : *rows)
        if (!row.terms.empty()) out.rows.push_back(row);
    return out;
  }

 private:
  void extend(std::size_t site, std::vector<std::size_t>& chain, std::size_t node, double cost) {
    if (!std::isfinite(cost)) return;
    const PortPart& first = job_.parts[(chain.empty() ? node : chain.front()) / 2];
    if (job_.parts[node / 2].family != first.family) return;
    chain.push_back(node);
    std::int64_t pixels = 0;
    double amps = 0.0;
    std::uint32_t set = 0;
    for (const std::size_t n : chain) {
      pixels += job_.parts[n / 2].pixels;
      amps += job_.parts[n / 2].amps;
      set |= 1U << (n / 2);
    }
    const PortSite& s = job_.sites[site];
    const bool room = s.takes[static_cast<std::size_t>(first.family)] && pixels <= s.pixels &&
                      pixels <= job_.familyPixels[static_cast<std::size_t>(first.family)] &&
                      (job_.ampsCost >= 0 || amps <= s.amps);
    if (room) {
      const double whole = cost + std::max(0.0, job_.ampsCost) * std::max(0.0, amps - s.amps);
      const auto [it, made] = cheapest_.emplace(set, whole);
      if (!made) it->second = std::min(it->second, whole);
      for (std::size_t next = 0; next < job_.parts.size() * 2; ++next)
        if ((set >> (next / 2) & 1U) == 0) extend(site, chain, next, cost + job_.jumper[node][next]);
    }
    chain.pop_back();
  }

  const PortJob& job_;
  std::map<std::uint32_t, double> cheapest_;
};

}  // namespace yw::propose
