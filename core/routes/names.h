#pragma once
#include <map>
#include <string>

#include "core/routes/routes.h"

namespace yw::routes {

/// Labels and words for the ends of cables. Looks each box, supply and port owner up once.
class Names {
 public:
  Names(const yard::Yard& yard, const Shapes& shapes);

  std::string portLabel(Id port);          ///< K2-P05
  std::string fuseLabel(Id fusePosition);  ///< K2-V1-F03
  std::string supplyLabel(Id supply);      ///< K2-V1
  std::string runLabel(Id run, const yard::Run& record);
  /// `K2 port 5`, `Ring 3 IN, 6 o'clock`, `Tree 1 pixel 192, strip 4, bottom`.
  std::string terminalText(const yard::Terminal& terminal);
  /// A null pixel or booster, counted along its run.
  static std::string inLineText(yard::RunItemKind kind);

 private:
  std::string before(Id owner, Id sample, const char* mark);
  std::string pixelText(const yard::Prop& prop, const shapes::Shape& shape, std::int64_t pixel) const;
  std::string nameOf(Id id);
  std::string labelInBox(Id owner, Id id);

  const yard::Yard& yard_;
  const Shapes& shapes_;
  /// What a label is counted among: the records of each box, as a yard of their own, and the box of each
  /// owner.
  std::map<Id, yard::Yard> boxes_;
  std::map<Id, Id> boxOf_;
  std::map<Id, std::string> stems_;  ///< by controller, receiver or supply: the label up to the number
  std::map<Id, std::string> names_;
};

/// Where a pixel is on its prop, as the builder says it; empty if the shape does not say.
std::string landmarkOf(const shapes::Shape& shape, std::int64_t pixel);

}  // namespace yw::routes
