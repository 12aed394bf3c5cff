#pragma once
#include <cstdint>
#include <vector>

#include "core/assess/assess.h"

// Where boxes stand, on plain figures: the least copper and cord from places that are allowed.
namespace yw::propose {

/// Cost of a demand that no box reaches.
inline constexpr double kOutOfReach = 1e4;

/// The end of a lead or feed.
struct SiteDemand {
  std::int32_t box = -1;  ///< it comes from this box; -1: from the nearest
  double perMetre = 1.0;  ///< of its wire
};
struct SiteJob {
  std::vector<SiteDemand> demands;
  std::vector<std::vector<double>> lead;     ///< [demand][place]; infinity: beyond reach
  std::vector<std::vector<double>> boxCost;  ///< [box][place]: its cords
  std::vector<std::vector<bool>> tooNear;    ///< [place][place]: not a box on each
  std::vector<bool> mayMove;                 ///< per box
};
struct SitePlan {
  std::vector<std::int32_t> at;  ///< place of each box
  double cost = 0.0;
  double bound = 0.0;  ///< no choice of these places costs less
};
double sitesCost(const SiteJob& job, const std::vector<std::int32_t>& at);
/// From `start` on, one box to another place or two boxes exchanged while that is cheaper; then, where the
/// choices are few, all of them, else a Lagrangian relaxation for the bound and for another start.
SitePlan planSites(const SiteJob& job, const std::vector<std::int32_t>& start);

/// A place that is allowed: where a box stands, or beside an outlet or prop.
struct SitePlace {
  base::Point at;
  base::Id box, beside;
};
struct SiteFigures {
  std::vector<base::Id> boxes;
  std::vector<SitePlace> places;  ///< first those of the boxes, in their order
  SiteJob job;
};
SiteFigures siteFigures(const assess::Assessment& a);

}  // namespace yw::propose
