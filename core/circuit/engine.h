#pragma once
#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

#include "core/circuit/load_curve.h"
#include "core/circuit/network.h"
#include "core/circuit/topology.h"

namespace yw::circuit {

class Island;

/// A network that is solved again and again with small changes: loads at another brightness, a run whose wire
/// or pixels change, a longer lead. What is joined to what is found out once and kept as long as it stays the
/// same. Every solve starts from nothing, so that the answer is to the bit that of a fresh network.
class Engine {
 public:
  explicit Engine(Network network);
  ~Engine();
  Engine(Engine&&) noexcept;
  Engine& operator=(Engine&&) noexcept;

  const Network& network() const { return network_; }

  /// Each takes the place of what stands there. Where the change joins or parts something (an open or bare
  /// conductor, another number of pixels), everything is found out anew at the next answer.
  void setLoads(std::vector<Load> loads);
  void setChain(std::size_t chain, Chain with);
  void setConductor(std::size_t conductor, double ohms);
  void setSource(std::size_t source, double volts, double ohms);

  /// Volts across every pixel by pixel number (chain after chain), 0 where no source reaches it.
  std::span<const double> pixelVolts();
  /// Everything.
  Solution solution();
  /// How often all was found out anew, for tests and benchmarks.
  int builds() const { return builds_; }

 private:
  void settle();
  void makeCurves();
  void build();
  bool renew();
  void touch(std::int32_t node);

  Network network_;
  std::vector<LoadCurve> curves_;
  std::unique_ptr<Topology> topology_;
  std::vector<std::unique_ptr<Island>> islands_;
  std::vector<std::uint8_t> chainStale_, islandStale_;
  bool rebuild_ = true, valuesStale_ = false, loadsStale_ = false;
  std::vector<double> pixelVolts_;
  int builds_ = 0;
};

}  // namespace yw::circuit
