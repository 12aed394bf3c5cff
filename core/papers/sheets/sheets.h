#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/papers/paper_table.h"
#include "core/papers/plan_drawing.h"

namespace yw::papers {

// Each fills the pages of one kind of sheet.
void fillMap(SheetPages& sheet, const Digest& d);
void fillZones(SheetPages& sheet, const Digest& d);
/// Whether a wall has a prop, a box or an opening on it.
bool wallsCarry(const Digest& d);
void fillHouseFront(SheetPages& sheet, const Digest& d);
void fillBoxPage(SheetPages& sheet, const Digest& d, const findings::Report& report, Id box);
void fillRunPage(SheetPages& sheet, const Digest& d, const findings::Report& report, Id run);
void fillFeeds(SheetPages& sheet, const Digest& d);
void fillSupplies(SheetPages& sheet, const Digest& d);
void fillCutList(SheetPages& sheet, const Digest& d);
void fillAddresses(SheetPages& sheet, const Digest& d);
void fillParts(SheetPages& sheet, const Digest& d);
void fillBuildSheet(SheetPages& sheet, const Digest& d, Id prop);
/// Pages to lay on the work, 1:1, for flat props of a few pages; else nothing.
void addDrillTemplate(SheetPages& sheet, const Digest& d, Id prop);
/// Two props that one build sheet serves.
bool builtAlike(const Digest& d, Id one, Id other);

/// True when the map cannot name everything clearly, so that zones at a larger scale are printed too.
bool mapIsCrowded(const Digest& d);

/// A true drawing scale.
struct DrawingScale {
  double mmPerMetre = 10.0;
  std::string name;        ///< `1 in = 10 ft`, `1:100`
  double feetPerInch = 0;  ///< 0: metric
  double ratio = 0;        ///< 100 for 1:100; 0: feet and inches
};
/// The largest usual scale at which width × height metres fit into w × h mm.
DrawingScale fittingScale(base::UnitSystem units, double width, double height, double w, double h);
/// Usual scales larger than `than`, the next one first.
std::vector<DrawingScale> largerScales(base::UnitSystem units, const DrawingScale& than);

inline constexpr double kScaleStripHeight = 29.0;
/// Scale bar in both units, check square and (with `north`) the arrow; `at` is the upper left corner.
void drawScaleStrip(SheetPages& sheet, const Digest& d, const DrawingScale& scale, Mm at, bool north);

/// A small plan that shows where something is, in a frame with its heading.
void drawLocator(SheetPages& sheet, const Digest& d, const Rect& frame, const PlanStyle& style);

/// Lines of `name: value` down a column; returns the y below.
double drawFacts(SheetPages& sheet, double x, double y, double width,
                 const std::vector<std::pair<std::string, std::string>>& facts);

/// Findings about any of `subjects`, worst first, as a boxed list; nothing when there are none.
void drawFindings(SheetPages& sheet, const Digest& d, const findings::Report& report,
                  const std::set<Id>& subjects);

/// Mains cords with what they carry and lose; house circuits with load, leakage, inrush and energy.
void drawCords(SheetPages& sheet, const Digest& d);
void drawCircuits(SheetPages& sheet, const Digest& d);
/// The cord that ends at a supply or at its box; null if it is not plugged in.
const routes::RoutedCable* lastCord(const Digest& d, Id supply);
std::string nowText(const Digest& d, Id supply);  ///< `29.00 A now, in 31 °C`
std::string heatText(const Digest& d, Id box);  ///< `46 W of heat, 38 °C inside …`; empty without supplies

// Short texts that several sheets say.
std::string ampsText(double amps);    ///< `1.20 A`
std::string voltsText(double volts);  ///< `11.4 V`
std::string star(bool assumed);       ///< `*` or nothing
std::string rangeText(std::int64_t first, std::int64_t last);
std::string feedPlace(const Digest& d, Id feed);                         ///< `Arch 1 pixel 25, left foot`
std::string placeText(const Digest& d, yard::TerminalKind kind, Id id);  ///< `12′ 6″ right, 3′ up the plan`

}  // namespace yw::papers
