#include "core/circuit/code.h"

#include <array>

namespace yw::circuit {

using yard::CodeEdition;

namespace {

constexpr std::array kEditions{CodeEdition::Nec2017, CodeEdition::Nec2020, CodeEdition::Nec2023};

std::string nameOf(CodeEdition edition) {
  return yard::words(edition)[static_cast<std::size_t>(edition)].name;
}

/// Section of each edition; sections move while figures stay. 210.23(A)(1) in 2020 is from memory.
struct Row {
  std::array<const char*, 3> section;
  bool sameFigure;
};
const Row& rowOf(CodeRule rule) {
  static constexpr std::array<Row, 6> kRows{
      {{{"210.20(A)", "210.20(A)", "210.20(A)"}, true},
       {{"210.23(A)(1)", "210.23(A)(1)", "210.23(B)(1)"}, true},
       {{"Table 210.21(B)(2)", "Table 210.21(B)(2)", "Table 210.21(B)(2)"}, true},
       {{"Table 400.5(A)(1)", "Table 400.5(A)(1)", "Table 400.5(A)(1)"}, true},
       {{"210.19(A) Informational Note 4", "210.19 Informational Note", "210.19 Informational Note"}, true},
       {{"210.8(A)(3)", "210.8(A)(3) and 210.8(F)", "210.8(A)(3) and 210.8(F)"}, false}}};
  return kRows[static_cast<std::size_t>(rule)];
}

}  // namespace

std::string inCode(CodeEdition edition, CodeRule rule) {
  const Row& row = rowOf(rule);
  const std::string text = nameOf(edition) + " " + row.section[static_cast<std::size_t>(edition)];
  std::string others;
  for (const CodeEdition other : kEditions)
    if (other != edition) others += (others.empty() ? "" : " and ") + nameOf(other);
  return text + (row.sameFigure ? "; the same figure in " : "; other figures in ") +
         (row.sameFigure                    ? others
          : edition == CodeEdition::Nec2017 ? others
                                            : nameOf(CodeEdition::Nec2017));
}

std::string inEdition(CodeEdition edition, const std::string& source) {
  constexpr std::string_view kCode = "NEC ";
  if (!source.starts_with(kCode) || source.starts_with("NEC 20")) return source;
  return nameOf(edition) + " " + source.substr(kCode.size());
}

GroundFaultScope groundFaultScope(CodeEdition edition) {
  return edition == CodeEdition::Nec2017 ? GroundFaultScope{125.0, 20.0} : GroundFaultScope{250.0, 50.0};
}

}  // namespace yw::circuit
