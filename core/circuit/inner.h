#pragma once
#include <cstdint>
#include <limits>
#include <span>
#include <utility>
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

/// Follows a pixel to `volts`: its region moves by one corner at most, so that a pixel that jumps across its
/// drop-out zone is next taken on the slope in between and cannot leap to and fro for ever. True if the
/// region changed.
bool follow(const LoadCurve& curve, double volts, std::uint8_t& region);

/// The pixels between the pairs of one island, eight stretches side by side. A stretch's figures never depend
/// on which others share its group, so that one arithmetic holds however stretches are grouped.
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

  /// Takes the pieces of these chains from the network anew (all with `loads`: the curves have changed).
  /// False if a group would have to be laid otherwise.
  bool renew(const Network& network, const Topology& topology, std::span<const std::uint8_t> chains,
             bool loads);

  const std::vector<Piece>& pieces() const { return pieces_; }
  const LaneEnds& ends(const Piece& piece) const { return groups_[piece.group].ends; }
  /// From here on the pieces have regulated loads.
  std::size_t firstCurvedPiece() const { return firstCurvedPiece_; }
  /// Whether a piece without regulated loads was condensed since this was last asked.
  bool takeStraightChanged() { return std::exchange(straightChanged_, false); }
  std::size_t size() const { return curve_.size(); }
  std::int32_t curve(std::size_t q) const { return curve_[q]; }  ///< -1: padding
  /// Last region of every pixel's load.
  const std::vector<std::uint8_t>& lastRegions() const { return last_; }
  /// No regulated pixel is below its cut.
  bool allOn(std::span<const double> volts) const;
  /// The same right after advance(), with a look only at lanes that it found outside their bounds.
  bool allOnAfterAdvance(std::span<const double> volts) const;
  double ohms(std::size_t q) const { return ohms_[q]; }  ///< from pixel q to the next

  /// Takes every pixel's line anew.
  void setLines(Slopes slopes, double factor, std::span<const double> volts,
                std::span<const std::uint8_t> region);
  /// The same where every pixel is in its last region, regulated loads taken as on; sets the volts of those.
  void setAmple(double volts, std::span<double> all);
  /// Condenses the groups whose lines have changed; false if the straight network is not stable.
  bool condense();
  /// From the island's pairs to the volts of all pixels.
  void fill(std::span<const double> pairVolts, std::span<double> volts);
  /// One whole step with regulated loads taken as on, group by group while its figures are at hand: volts
  /// from the pairs, regions moved along, changed lines taken anew and, with `condensed`, condensed. Groups
  /// of which the ends alone show that no pixel leaves its piece are left for fillRest. False if the straight
  /// network is not stable.
  bool advance(double factor, std::span<const double> pairVolts, std::span<double> volts,
               std::span<std::uint8_t> region, bool condensed, Move& move);
  void fillRest(std::span<double> volts);

 private:
  struct Group {
    std::size_t begin, rows;  ///< pixels begin .. begin + rows·kLanes
    LaneValues firstOhms{};   ///< 0: tail
    LaneValues counted{};     ///< pixels × Ω of the whole lane
    LaneReach reach;
    LaneValues sent{}, left{}, perOpen{};  ///< of the march, for the fill; perOpen: 1 / open
    LaneEnds ends;
    LaneValues cut{};  ///< lowest cut of the lane's regulated loads, V
    /// Volts by which the lowest pixel of a lane can lie below the lower end, for each ampere that the
    /// hungriest of its pixels draws.
    LaneValues dip{};
    LaneValues mostSlope{}, mostStart{};  ///< no pixel of the lane draws more than mostSlope·V + mostStart
    bool curved = false;                  ///< holds regulated loads
    std::uint32_t stiff = 0;              ///< lanes that are eliminated, by bit
    bool flat = false;                    ///< its pixels draw the same whatever their volts
    bool pinned = false;                  ///< regulated loads are taken as on: condensing adds their tangents
    bool changed = true;
    bool ample = false;         ///< its lines are those of ample volts, whole load
    bool rest = false;          ///< its volts are left for fillRest
    std::uint32_t outside = 0;  ///< lanes with a pixel outside their bounds after fill, by bit
    double curvedMove = 0.0;    ///< of its regulated pixels in the last fill, V
    std::size_t firstPiece = 0, pieces = 0;
  };
  /// One region of a load's curve, for quick reading.
  struct Region {
    double low, high, slope, start;
  };
  static constexpr std::size_t kRegions = 16;  ///< at most, of a curve

  bool isFlat(const Network& network, const Stretch& s) const;
  bool isCurved(const Network& network, const Stretch& s) const;
  void tabulate();
  void put(const Piece& piece, const Network& network, const Topology& topology);
  void setDip(const Piece& piece);
  void setLine(const Group& group, std::size_t q, Slopes slopes, double factor, double volts,
               std::uint8_t region);
  void setGroup(Group& group, Slopes slopes, double factor, std::span<const double> volts,
                std::span<const std::uint8_t> region);
  void openBounds(Group& group, std::size_t lane) const;
  void narrow(Group& group, std::size_t lane, std::size_t q, std::uint8_t region) const;
  void setReach(Group& group, std::span<const double> pairVolts) const;
  bool calm(const Group& group) const;
  bool laneOn(const Group& group, std::size_t lane, std::span<const double> volts) const;
  bool condenseGroup(Group& group);
  bool takeEnds(Group& group, const LaneWay& way) const;
  bool eliminateLanes(Group& group);
  void fillGroup(Group& group, std::span<double> volts);
  std::uint32_t march(const Group& group, const LaneStart& start, double* volts, LaneValues& moved);
  void takeRestored(Group& group, double* volts);
  void followLane(Group& group, std::size_t lane, double factor, std::span<const double> volts,
                  std::span<std::uint8_t> region, Move& move);
  bool regulated(const Group& group, std::size_t q) const {
    return group.curved && watts_[q - firstCurved_] > 0.0;
  }
  const Region& regionOf(std::size_t q, std::uint8_t region) const {
    return regions_[static_cast<std::size_t>(curve_[q]) * kRegions + region];
  }
  LanePixels pixels(const Group& g) const { return {&ohms_[g.begin], &slope_[g.begin], &start_[g.begin]}; }
  LaneWatts watts(const Group& g) {
    return {&watts_[g.begin - firstCurved_], &inverse_[g.begin - firstCurved_]};
  }
  LaneShares shares(const Group& g) { return {&shrink_[g.begin], &offset_[g.begin], &carry_[g.begin]}; }

  std::span<const LoadCurve> curves_;
  std::vector<Region> regions_;
  std::vector<Piece> pieces_;
  std::vector<Group> groups_;
  std::vector<std::int32_t> curve_;
  std::vector<std::uint8_t> last_;
  std::vector<double> ohms_, slope_, start_;
  std::vector<double> shrink_, offset_, carry_;  ///< empty while no lane is stiff
  std::vector<double> lineSlope_, lineStart_, restored_;
  std::size_t firstCurved_ = 0, firstCurvedPiece_ = 0;
  bool straightChanged_ = true;
  std::vector<double> watts_;    ///< from pixel firstCurved_ on; 0: not regulated
  std::vector<double> inverse_;  ///< alike: 1/V at which watts/V is made straight
};

}  // namespace yw::circuit
