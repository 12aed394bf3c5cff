#include "ui/panels/tables/cell_fields.h"

#include <string_view>

namespace yw::ui {

namespace {

using yard::RecordKind;

/// Which record the field belongs to.
enum class Whose { Row, FusePosition, OnGround, OnWall };

struct Known {
  const char* table;
  const char* column;
  RecordKind kind;
  const char* field;
  Half half = Half::Whole;
  Whose whose = Whose::Row;
};

constexpr Known kKnown[] = {
    {"props", "prop", RecordKind::Prop, "name"},
    {"props", "wall", RecordKind::Prop, "wall"},
    {"props", "x", RecordKind::Prop, "at", Half::X, Whose::OnGround},
    {"props", "y", RecordKind::Prop, "at", Half::Y, Whose::OnGround},
    {"props", "along_wall", RecordKind::Prop, "at", Half::X, Whose::OnWall},
    {"props", "up_wall", RecordKind::Prop, "at", Half::Y, Whose::OnWall},
    {"props", "heading", RecordKind::Prop, "heading"},
    {"props", "product", RecordKind::Prop, "product"},
    {"props", "status", RecordKind::Prop, "status"},
    {"runs", "name", RecordKind::Run, "name"},
    {"runs", "port", RecordKind::Run, "port"},
    {"feeds", "fuse", RecordKind::FusePosition, "fuse", Half::Whole, Whose::FusePosition},
    {"feeds", "wire", RecordKind::Cable, "wire"},
    {"feeds", "v_plus", RecordKind::Cable, "cut_positive"},
    {"supplies_fuses", "item", RecordKind::Supply, "name"},
    {"supplies_fuses", "box", RecordKind::Supply, "box"},
    {"supplies_fuses", "volts", RecordKind::Supply, "voltage"},
    {"supplies_fuses", "rated", RecordKind::Supply, "rated_amps"},
    {"supplies_fuses", "rated", RecordKind::FusePosition, "fuse"},
    {"supplies_fuses", "leakage", RecordKind::Supply, "leakage"},
    {"supplies_fuses", "outlet", RecordKind::Supply, "outlet"},
    {"supplies_fuses", "inrush", RecordKind::Supply, "inrush"},
    {"lead_cut_list", "wire", RecordKind::Cable, "wire"},
    {"lead_cut_list", "new_or_own", RecordKind::Cable, "own_length"},
    {"addresses", "start_universe", RecordKind::Run, "start_universe"},
    {"addresses", "start_slot", RecordKind::Run, "start_slot"},
    {"ports", "port_limit", RecordKind::Port, "limit"},
    {"ports", "fuse", RecordKind::Port, "fuse"},
    {"house_circuits", "circuit", RecordKind::HouseCircuit, "name"},
    {"house_circuits", "breaker", RecordKind::HouseCircuit, "breaker"},
    {"house_circuits", "line", RecordKind::HouseCircuit, "voltage"},
    {"house_circuits", "gfci", RecordKind::HouseCircuit, "ground_fault"},
    {"mains_cords", "wire", RecordKind::Cable, "wire"},
    {"box_heat", "box", RecordKind::Box, "name"},
    {"box_heat", "cooling", RecordKind::Box, "cooling"},
    {"fuse_choice", "fuse", RecordKind::Port, "fuse"},
    {"fuse_choice", "fuse", RecordKind::FusePosition, "fuse"},
    {"boxes", "box", RecordKind::Box, "name"},
    {"boxes", "wall", RecordKind::Box, "wall"},
    {"boxes", "x", RecordKind::Box, "at", Half::X, Whose::OnGround},
    {"boxes", "y", RecordKind::Box, "at", Half::Y, Whose::OnGround},
    {"boxes", "along_wall", RecordKind::Box, "at", Half::X, Whose::OnWall},
    {"boxes", "up_wall", RecordKind::Box, "at", Half::Y, Whose::OnWall},
    {"boxes", "leads_leave", RecordKind::Box, "height"},
    {"boxes", "cooling", RecordKind::Box, "cooling"},
    {"boxes", "notes", RecordKind::Box, "notes"},
    {"controllers", "board", RecordKind::Controller, "name"},
    {"controllers", "board", RecordKind::Receiver, "name"},
    {"controllers", "box", RecordKind::Controller, "box"},
    {"controllers", "box", RecordKind::Receiver, "box"},
    {"controllers", "controller", RecordKind::Receiver, "controller"},
    {"controllers", "model", RecordKind::Controller, "model"},
    {"controllers", "model", RecordKind::Receiver, "model"},
    {"controllers", "network_address", RecordKind::Controller, "address"},
    {"controllers", "protocol", RecordKind::Controller, "protocol"},
    {"controllers", "most_a_port", RecordKind::Controller, "pixels_per_port"},
    {"controllers", "most_a_port", RecordKind::Receiver, "pixels_per_port"},
    {"controllers", "universes", RecordKind::Controller, "universes"},
};

bool onWall(const yard::Yard& yard, base::Id row) {
  const auto* prop = yard::find<yard::Prop>(yard, row);
  const auto* box = yard::find<yard::Box>(yard, row);
  return (prop != nullptr && prop->wall) || (box != nullptr && box->wall);
}

base::Id whose(const yard::Yard& yard, Whose which, base::Id row) {
  if (which == Whose::Row) return row;
  if (which != Whose::FusePosition) return onWall(yard, row) == (which == Whose::OnWall) ? row : base::Id{};
  const auto* cable = yard::find<yard::Cable>(yard, row);
  return cable == nullptr ? base::Id{} : cable->from.record;
}

/// The field as it is asked for; half a place is a length with the same bounds.
std::optional<yard::FieldInfo> asked(const Known& known) {
  for (yard::FieldInfo& info : yard::fieldsOf(known.kind)) {
    if (info.name != known.field) continue;
    if (known.half != Half::Whole) {
      info.type = yard::FieldType::Length;
      info.name += known.half == Half::X ? "_x" : "_y";
    }
    return std::move(info);
  }
  return std::nullopt;
}

}  // namespace

std::optional<CellField> cellField(const yard::Yard& yard, const papers::Table& table, std::size_t column,
                                   base::Id rowRecord) {
  if (column >= table.columns.size()) return std::nullopt;
  for (const Known& known : kKnown) {
    if (table.name != known.table || table.columns[column] != known.column) continue;
    const base::Id id = whose(yard, known.whose, rowRecord);
    const auto record = yard.records.find(id);
    if (record == yard.records.end() || yard::kindOf(*record->second) != known.kind) continue;
    auto info = asked(known);
    if (info) return CellField{std::move(*info), id, known.field, known.half};
  }
  return std::nullopt;
}

std::optional<CellField> leadField(const papers::Table& table, std::size_t column) {
  if (column >= table.columns.size()) return std::nullopt;
  for (const Known& known : kKnown) {
    if (table.name != known.table || table.columns[column] != known.column) continue;
    if (known.kind != RecordKind::Cable) continue;
    if (auto info = asked(known)) return CellField{std::move(*info), {}, known.field, known.half};
  }
  return std::nullopt;
}

std::optional<yard::FieldValue> cellValue(const yard::Yard& yard, const CellField& cell) {
  const auto record = yard.records.find(cell.record);
  if (record == yard.records.end()) return std::nullopt;
  auto value = yard::valueOf(*record->second, cell.field);
  if (!value || cell.half == Half::Whole) return value;
  const auto* place = std::get_if<base::Point>(&*value);
  if (place == nullptr) return std::nullopt;
  return cell.half == Half::X ? place->x.count : place->y.count;
}

}  // namespace yw::ui
