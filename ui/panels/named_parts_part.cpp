#include <fmt/format.h>

#include <charconv>

#include "ui/panels/edits.h"
#include "ui/panels/list_parts.h"

namespace yw::ui {

namespace {

bool readCount(std::string_view& rest, std::int64_t& count) {
  while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
  const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), count);
  if (error != std::errc() || count < 1) return false;
  rest.remove_prefix(static_cast<std::size_t>(end - rest.data()));
  while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
  return true;
}

}  // namespace

base::Result<std::vector<yard::Range>> readRanges(const std::string& typed) {
  const auto refused = [&] {
    return base::fail(base::ErrorCode::BadInput, {"field_ranges", {{"typed", typed}}});
  };
  std::vector<yard::Range> ranges;
  std::string_view rest = typed;
  while (true) {
    yard::Range range;
    if (!readCount(rest, range.first)) return refused();
    range.last = range.first;
    if (!rest.empty() && rest.front() == '-') {
      rest.remove_prefix(1);
      if (!readCount(rest, range.last) || range.last < range.first) return refused();
    }
    ranges.push_back(range);
    if (rest.empty()) return ranges;
    if (rest.front() != ',') return refused();
    rest.remove_prefix(1);
  }
}

std::string rangesText(const std::vector<yard::Range>& ranges) {
  std::string text;
  for (const yard::Range& range : ranges) {
    if (!text.empty()) text += ", ";
    text += range.first == range.last ? fmt::format("{}", range.first)
                                      : fmt::format("{}-{}", range.first, range.last);
  }
  return text;
}

NamedPartsPart::NamedPartsPart(Document& document, std::set<base::Id> ids, QWidget* parent)
    : RowsPart(document, std::move(ids),
               {QStringLiteral("named_parts"), tr("Named parts"), tr("Add a part"), tr("Remove it")},
               {{columnInfo("name", tr("Name"), yard::FieldType::Text)},
                {columnInfo("pixels", tr("Pixels, 1-24, 49"), yard::FieldType::Text)}},
               parent) {
  refresh();
}

std::vector<RowsPart::Cells> NamedPartsPart::cells() const {
  std::vector<Cells> rows;
  if (const auto* prop = yard::find<yard::Prop>(yard(), id()))
    for (const auto& part : prop->parts) rows.push_back({part.name, rangesText(part.ranges)});
  return rows;
}

QString NamedPartsPart::change(int row, int column, const FieldEdit& edit) {
  const std::string typed = std::get<std::string>(edit(std::string()));
  const auto ranges =
      column == 1 ? readRanges(typed) : base::Result<std::vector<yard::Range>>(std::vector<yard::Range>{});
  if (!ranges) return errorText(ranges.error(), yard());
  editRecord<yard::Prop>(document(), id(), step(), [&](yard::Prop& prop) {
    auto& part = prop.parts.at(static_cast<std::size_t>(row));
    if (column == 0) part.name = typed;
    if (column == 1) part.ranges = *ranges;
  });
  return {};
}

void NamedPartsPart::add() {
  editRecord<yard::Prop>(document(), id(), step(), [this](yard::Prop& prop) {
    prop.parts.push_back({tr("Part %1").arg(prop.parts.size() + 1).toStdString(), {{1, 1}}});
  });
}

void NamedPartsPart::remove(int row) {
  editRecord<yard::Prop>(document(), id(), step(),
                         [row](yard::Prop& prop) { prop.parts.erase(prop.parts.begin() + row); });
}

}  // namespace yw::ui
