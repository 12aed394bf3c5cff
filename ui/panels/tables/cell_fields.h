#pragma once
#include <optional>

#include "core/papers/papers.h"
#include "core/yard/field_value.h"

namespace yw::ui {

/// Which half of a place a cell shows.
enum class Half { Whole, X, Y };

/// What a person may change in a cell: one field of one record, asked for as on its form.
struct CellField {
  yard::FieldInfo info;  ///< half a place: as a length
  base::Id record;       ///< the row's own, or one it stands for (the fuse position of a feed)
  std::string field;     ///< of the record
  Half half = Half::Whole;
};

/// The field behind a cell; nothing where the figure is computed.
std::optional<CellField> cellField(const yard::Yard& yard, const papers::Table& table, std::size_t column,
                                   base::Id rowRecord);

/// The field of a lead or jumper that has no record yet; its record is none.
std::optional<CellField> leadField(const papers::Table& table, std::size_t column);

/// What the cell's field holds now; nothing if its record is gone.
std::optional<yard::FieldValue> cellValue(const yard::Yard& yard, const CellField& cell);

}  // namespace yw::ui
