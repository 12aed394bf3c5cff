#pragma once
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "core/circuit/lanes.h"
#include "core/circuit/load_curve.h"
#include "core/circuit/network.h"
#include "core/circuit/topology.h"

namespace yw::circuit {

/// A regulated pixel so little below its cut is still on, V.
inline constexpr double kOnRounding = 1e-9;

/// How a load's curve is made straight for one Newton step.
enum class Slopes : std::uint8_t {
  True,    ///< its tangent
  AllOn,   ///< a regulated load's tangent, below its cut the one at the cut: as if it never went dark
  Raised,  ///< falling slopes taken as flat, so that the step leads downhill
};

/// A load's straight line at `volts` in `region`, all of it times `factor`.
LoadLine straight(const LoadCurve& curve, int region, double volts, Slopes slopes, double factor);

/// What a step changed: the farthest that any pixel on a curved piece moved, V, and whether no pixel left its
/// straight piece.
struct Move {
  double curved = 0.0;
  bool settled = true;
};

/// Follows a pixel to `next` volts: its region moves by one corner at most, so that a pixel that jumps across
/// its drop-out zone is next taken on the slope in between and cannot leap to and fro for ever. True if the
/// pixel's line is to be taken anew.
bool follow(const LoadCurve& curve, Slopes slopes, double volts, double next, std::uint8_t& region,
            Move& move);

/// The pixels between the pairs of one island, eight stretches side by side.
class Inner {
 public:
  struct Piece {
    std::int32_t stretch;   ///< in the topology
    std::int32_t from, to;  ///< pairs of the island; from -1: tail
    std::int32_t count;
    double firstOhms;
    std::size_t at;  ///< its first pixel; the next is kLanes further
    std::size_t group;
    std::size_t lane() const { return at % kLanes; }
  };

  /// Takes the pieces (at and group still open) and puts them into groups of like length and kind.
  void lay(std::vector<Piece> pieces, const Network& network, const Topology& topology,
           std::span<const LoadCurve> curves);

  const std::vector<Piece>& pieces() const { return pieces_; }
  const LaneEnds& ends(const Piece& piece) const { return groups_[piece.group].ends; }
  std::size_t size() const { return curve_.size(); }
  std::int32_t curve(std::size_t q) const { return curve_[q]; }  ///< -1: padding
  /// Last region of every pixel's load.
  const std::vector<std::uint8_t>& lastRegions() const { return last_; }
  /// No regulated pixel is below its cut.
  bool allOn(std::span<const double> volts) const;
  double ohms(std::size_t q) const { return ohms_[q]; }  ///< from pixel q to the next

  /// Takes every pixel's line anew.
  void setLines(Slopes slopes, double factor, std::span<const double> volts,
                std::span<const std::uint8_t> region);
  /// Condenses the groups whose lines have changed; false if a pivot is not positive.
  bool condense();
  /// Volts of all pixels from those of the island's pairs.
  void fill(std::span<const double> pairVolts, std::span<double> volts);
  /// After fill: moves regions along and takes changed lines anew.
  void accept(Slopes slopes, double factor, std::span<const double> volts, std::span<const double> next,
              std::span<std::uint8_t> region, Move& move);

 private:
  struct Group {
    std::size_t begin, rows;  ///< pixels begin .. begin + rows·kLanes
    LaneValues firstSiemens{};
    LaneValues low{}, high{};  ///< volts within which no pixel of the lane leaves its straight piece
    LaneEnds ends;
    bool curved = false;  ///< holds regulated loads
    bool changed = true;
    std::uint32_t outside = 0;  ///< lanes with a pixel outside their bounds after fill, by bit
    std::size_t firstPiece = 0, pieces = 0;
  };
  void put(const Piece& piece, const Network& network, const Topology& topology);
  void setLine(std::size_t q, Slopes slopes, double factor, double volts, std::uint8_t region);
  void setBounds(Group& group, Slopes slopes, std::span<const std::uint8_t> region) const;
  void narrow(Group& group, std::size_t q, Slopes slopes, std::uint8_t region) const;
  bool likeBefore(const Group& group, std::size_t q, std::span<const std::uint8_t> region) const;
  double tangents(const Group& group, double factor, std::span<const double> volts,
                  std::span<const double> next);
  void followAll(Group& group, Slopes slopes, double factor, std::span<const double> volts,
                 std::span<const double> next, std::span<std::uint8_t> region, Move& move);

  std::span<const LoadCurve> curves_;
  std::vector<Piece> pieces_;
  std::vector<Group> groups_;
  std::vector<std::int32_t> curve_;
  std::vector<std::uint8_t> last_;
  std::vector<double> ohms_, slope_, start_, shrink_, offset_, carry_;
  std::size_t firstCurved_ = 0;
  std::vector<double> watts_, idle_, cut_;  ///< from pixel firstCurved_ on; watts 0: not regulated
};

}  // namespace yw::circuit
