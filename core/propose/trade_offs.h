#pragma once
#include <atomic>
#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "core/propose/whole_plan.h"

// What a choice costs: the same yard planned with each of its values, by the planners and the circuit.
namespace yw::propose {

/// The yard planned with one value of the choice: controllers, supplies, ports, feeds and outlets as the
/// planners would have them, with what is there used first.
struct TradeOffRow {
  base::Message choice;  ///< `40 %`, `one more box`
  double value = 0.0;    ///< for an axis: a share, frames a second, boxes, volts
  bool now = false;      ///< what the yard has
  std::int64_t boxes = 0, controllers = 0, ports = 0;  ///< boxes, controllers; ports that carry a run
  std::int64_t feeds = 0, supplies = 0;                ///< feeds; supplies that give anything
  double copper = 0.0;                                 ///< m of cables as cut
  /// Of all cables, of controllers and supplies in use; by the yard's prices, else assumed.
  double cost = 0.0;
  double amps = 0.0, lineAmps = 0.0;  ///< out of all supplies; from the house
  std::int64_t cannot = 0;            ///< limits that cannot be met
  std::int64_t grave = 0;             ///< findings of Danger and Won't work that are left
  edit::Change change;                ///< from the yard to the yard planned so; empty: nothing to change
};

struct TradeOff {
  const char* key;  ///< `brightness`; wordings trade_off_<key> and trade_off_part_<key>
  std::vector<TradeOffRow> (*rows)(const assess::AssessmentPtr& assessment, Id subject,
                                   const std::atomic<bool>& stop,
                                   const std::function<void(std::size_t, std::size_t)>& begins);
};

/// brightness: 20 to 100 % and the yard's own. frames: 20 to 60 a second and the yard's own. boxes: as many
/// as there are and up to two more, each with a controller, put where they save most. volts: the subject
/// prop, or without one all props of the most used pixel, with a pixel of the same colors and spacing of
/// other volts. `stop` ends it with the rows that are whole; `begins` (may be empty) is told of each row as
/// it begins: which one, of how many.
std::span<const TradeOff> tradeOffs();
const TradeOff* findTradeOff(std::string_view key);

}  // namespace yw::propose
