#pragma once
#include <map>
#include <string>

#include "core/yard/yard.h"

namespace yw::yard {

/// What people read and shout, computed from where a thing is: a port K2-P05, a fuse position K2-F03
/// (K2-V2-F03 when the box has several supplies), a supply K2-V1, a feed by its fuse position, a run by its
/// port or its name, a prop, box, outlet by its name. Numbers have two digits. An unnamed record shows its
/// kind and id.
std::string labelOf(const Yard& yard, Id id);

/// labelOf() for many ids of one yard, which must outlive it: what stands where is looked up once.
class Labels {
 public:
  explicit Labels(const Yard& yard);
  std::string of(Id id) const;

 private:
  std::string ownerLabel(Id owner) const;
  std::string portLabel(const Port& port) const;
  std::string supplyLabel(Id id, const Supply& supply) const;
  std::string fuseLabel(const FusePosition& fuse) const;
  std::string cableLabel(Id id, const Cable& cable) const;

  const Yard& yard_;
  std::map<Id, std::vector<Id>> suppliesIn_, portOwnersIn_;  ///< by box, in the order of their ids
  std::map<Id, bool> portNumbersClash_;  ///< box: a port number stands on two of its controllers or receivers
  std::map<Id, std::pair<Id, int>> leadOf_;  ///< lead record: its run, and the place in it
};

/// The n-th letter for pieces of a run (0-based): A C D E F G H J K L M N P R T U V W X Y, then AA, AC, …
/// No I, O, Q, S, Z, B: they are misread for 1, 0, 5, 2, 8.
std::string pieceLetter(int n);

/// A free name for a new record: K3 for a box when K1 and K2 are there, `Arch 2` for a prop called `Arch`.
std::string freeName(const Yard& yard, RecordKind kind, const std::string& stem);

}  // namespace yw::yard
