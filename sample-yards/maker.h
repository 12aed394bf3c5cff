#pragma once
// Lays out invented yards from code, so that a change of the file format or of a kind is one run away.
#include <map>
#include <string>
#include <vector>

#include "core/edit/change.h"
#include "core/shapes/shape.h"

namespace yw::samples {

using base::Id;
using yard::FeatureKind;

struct Place {
  double x = 0, y = 0;  ///< feet, x east, y north
};
struct Size {
  std::string name;
  double value = 0;  ///< feet for lengths, else the count itself
  bool feet = true;
};

/// Ports, fuse positions and supply of one power section, used up in order.
struct Section {
  Id supply;
  std::vector<Id> ports, fuses;
  std::size_t nextPort = 0, nextFuse = 0;
};

class Maker {
 public:
  explicit Maker(const std::string& name);
  edit::Editor& editor() { return e_; }
  Id product(const std::string& name) const;
  Id wire(const std::string& name) const;
  void settings(const std::string& usualProduct, int brightnessPercent);
  void season(const char* setUp, const char* first, const char* last, const char* strike, int crew);

  Id feature(FeatureKind kind, const std::string& name, const std::vector<Place>& outline,
             double heightFeet = 0, const std::string& reason = {}, double toleranceFeet = 0);
  /// A rectangular house with its four walls: front (south), right, back, left.
  std::vector<Id> house(Place lowerLeft, Place upperRight, double eaveFeet, int pitch);
  void opening(Id wall, yard::OpeningKind kind, const std::string& name, double x, double y, double w,
               double h);
  Id circuit(const std::string& name, int breakerAmps, double otherAmps, const std::string& other);
  Id outlet(const std::string& name, Id circuit, Place at, double heightFeet = 1.5);
  Id box(const std::string& name, Place at, Id wall = {});
  Id controller(Id box, const std::string& name, const std::string& address, int pixelsPerPort);
  /// A supply with its fuse positions and a section of ports on `controller`.
  Section section(Id box, Id outlet, Id controller, int firstPort, int ports, int amps, int fuses,
                  double fuseAmps);
  Id prop(const std::string& kind, const std::string& name, Place at, const std::vector<Size>& sizes = {},
          double headingDegrees = 0);
  Id wallProp(const std::string& kind, const std::string& name, Id wall, double x, double height,
              const std::vector<Size>& sizes = {}, const std::vector<Place>& path = {});
  void path(Id prop, const std::vector<Place>& points);

  Id run(Section& section, const std::vector<Id>& props);
  void feed(Section& section, Id prop, std::int64_t pixel, const std::string& wire = {});
  /// Strings the props over the sections' ports, cut at joints so that no run is over `most` pixels, with
  /// feeds at joints about every `every` pixels (0: none).
  void string(std::vector<Section*> sections, const std::vector<Id>& props, std::int64_t most,
              std::int64_t every, const std::string& feedWire = {});

  /// Mends gaps that the data does not reach over as the program proposes, the first `leave` of them aside.
  void mendReach(std::size_t leave);

 private:
  Id addRun(Id port, const std::vector<yard::RunItem>& items);
  edit::Editor e_;
};

yard::Yard porchAndLawn();
yard::Yard cornerLot();
yard::Yard largeGrounds();
yard::Yard everyProp();

}  // namespace yw::samples
