#pragma once
#include <string>

#include "core/findings/findings.h"

namespace yw::findings {

/// Starts a finding of `rule` about `subject`, placed where the subject stands.
Finding begin(const assess::Assessment& a, const Rule& rule, Severity severity, Id subject);

/// Yard place of a prop's pixel (1-based); of the prop itself when there is none.
base::Vec3 placeOfPixel(const assess::Assessment& a, Id prop, std::int64_t pixel);
/// Where a record stands; the yard's origin for those without a place.
base::Vec3 placeOfRecord(const assess::Assessment& a, Id id);

/// Points the finding at place `runPixel` (1-based) of the run.
void pointAt(const assess::Assessment& a, Finding& finding, Id run, std::int64_t runPixel);

/// Adds the product or supply to the assumed list if its figures are assumed.
void noteAssumed(const assess::Assessment& a, Finding& finding, Id productOrSupply);

std::string label(const assess::Assessment& a, Id id);

/// What is unknown, in words: `the amps of 12 V node`.
std::string unknownText(const assess::Assessment& a, const circuit::Unknown& unknown);
/// Where a measurement was taken: `Arch 1 pixel 25`, `K1-P05`.
std::string placeOfMeasurement(const assess::Assessment& a, Id measurement);

/// Product of a place along the run; null for null pixels and props without a product.
const yard::Product* productAt(const assess::Assessment& a, const circuit::RunLayout& layout,
                               std::size_t place);
Id productIdAt(const assess::Assessment& a, const circuit::RunLayout& layout, std::size_t place);

/// Supply behind a port's power section; none if not said.
Id supplyOfPort(const yard::Yard& yard, Id port);
inline Id supplyOfPort(const assess::Assessment& a, Id port) { return supplyOfPort(a.yard, port); }

/// A at the brightness limit through a port, a fuse position or a feed; 0 where nothing is plugged in.
double ampsThrough(const assess::Assessment& a, Id gate);

/// Name of the gap of a run that leads to an item: by what it reaches, never by a position, so that a finding
/// is recognised again after something was put in before it.
std::string gapName(const assess::Assessment& a, const yard::Run& run, std::int64_t item);

/// Severity of a figure that must stay at or below its limit: over it `over`, from `close` (0..1) on Close to
/// limit. False when it is well below.
bool grade(double used, double close, Severity over, Severity& severity);

/// `brightness limit` (which is full white when the limit is 100 %).
inline constexpr const char* kAtLimit = "brightness limit";
inline constexpr const char* kAtFullWhite = "full white";
inline constexpr const char* kOneLost = "one lost";
inline constexpr const char* kFault = "fault";

/// The 0 V of a cable carries another supply's return: more than its own V+ brings.
bool foreignReturn(const circuit::CableFigure& figure);

/// A length of cable as it is said: to the nearest inch, or centimeter in a metric yard.
base::Length said(const assess::Assessment& a, double metres);

/// `source, edition` of the yard's code edition where the source is the code.
std::string codeSource(const assess::Assessment& a, const char* section);

}  // namespace yw::findings
