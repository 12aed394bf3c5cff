#include "core/propose/last_year.h"

#include <algorithm>
#include <charconv>
#include <map>
#include <optional>
#include <utility>

#include "core/shapes/inverse.h"
#include "core/yard/labels.h"

namespace yw::propose {

using base::Id;

namespace {

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

/// Lower case, letters and digits only: `Start  Universe:` is `startuniverse`.
std::string plain(const std::string& text) {
  std::string out;
  for (char c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) out += c;
  }
  return out;
}

base::Error refusal(const char* key, std::map<std::string, base::Fact> facts, std::string where = {}) {
  return {base::ErrorCode::BadInput, {key, std::move(facts)}, std::move(where)};
}

/// The word for one of what a word may stand for several of: `arches`: `arch`, `snowflakes`: `snowflake`.
std::string singular(std::string word) {
  const auto ends = [&](const char* end) { return word.ends_with(end); };
  if (word.size() < 4 || !ends("s") || ends("ss")) return word;
  word.pop_back();
  if (ends("ie")) return word.replace(word.size() - 2, 2, "y");
  if (ends("che") || ends("she") || ends("xe") || ends("sse")) word.pop_back();
  return word;
}

/// Its words as of one thing, run together: `Rings in rings` and `Ring-in-ring` are `ringinring`.
std::string kindWord(const std::string& text) {
  std::string out, word;
  for (const char c : text + " ") {
    const std::string letter = plain(std::string(1, c));
    if (letter.empty()) out += singular(std::exchange(word, {}));
    word += letter;
  }
  return out;
}

/// One line of cells from `at` on; moves `at` behind it and counts lines.
std::optional<std::vector<std::string>> readLine(const std::string& text, char mark, std::size_t& at,
                                                 std::int64_t& line) {
  std::vector<std::string> cells(1);
  bool quoted = false;
  for (; at < text.size(); ++at) {
    const char c = text[at];
    if (quoted && c == '"' && at + 1 < text.size() && text[at + 1] == '"') {
      cells.back() += '"';
      ++at;
    } else if (c == '"' && (quoted || trimmed(cells.back()).empty())) {
      quoted = !quoted;
    } else if (!quoted && c == mark) {
      cells.emplace_back();
    } else if (!quoted && c == '\n') {
      break;
    } else {
      line += c == '\n';
      cells.back() += c;
    }
  }
  if (quoted) return std::nullopt;
  if (at < text.size()) ++at, ++line;
  for (std::string& cell : cells) cell = trimmed(cell);
  return cells;
}

char markOf(const std::string& text) {
  const std::string first = text.substr(0, text.find('\n'));
  const auto count = [&](char c) { return std::count(first.begin(), first.end(), c); };
  if (count('\t') > 0) return '\t';
  return count(';') > count(',') ? ';' : ',';
}

}  // namespace

const std::vector<std::string>& listColumnWords() {
  static const std::vector<std::string> words = {"left out", "prop", "kind", "pixels", "port",
                                                 "universe", "slot", "lead", "notes"};
  return words;
}

base::Result<List> readList(const std::string& bytes) {
  const std::string text = bytes.rfind("\xEF\xBB\xBF", 0) == 0 ? bytes.substr(3) : bytes;
  List list;
  const char mark = markOf(text.substr(std::min(text.size(), text.find_first_not_of("\r\n \t"))));
  std::size_t at = 0;
  std::int64_t line = 1;
  while (at < text.size()) {
    const std::int64_t begins = line;
    auto cells = readLine(text, mark, at, line);
    const std::string where = "line " + std::to_string(begins);
    if (!cells) return tl::unexpected(refusal("list_open_quote", {}, where));
    if (std::all_of(cells->begin(), cells->end(), [](const auto& cell) { return cell.empty(); })) continue;
    if (list.headings.empty()) {
      list.headings = *cells;
      continue;
    }
    while (cells->size() > list.headings.size() && cells->back().empty()) cells->pop_back();
    list.rows.push_back({begins, *cells, {}});
    if (cells->size() > list.headings.size())
      list.rows.back().bad =
          refusal("list_too_many_cells", {{"cells", static_cast<std::int64_t>(cells->size())},
                                          {"headings", static_cast<std::int64_t>(list.headings.size())}});
    list.rows.back().cells.resize(list.headings.size());
  }
  if (list.rows.empty()) return tl::unexpected(refusal("list_nothing", {}));
  return list;
}

std::vector<ListColumn> proposedColumns(const List& list) {
  static const std::vector<std::pair<ListColumn, std::vector<std::string>>> known = {
      {ListColumn::Prop, {"prop", "name", "propname", "item", "element", "what"}},
      {ListColumn::Kind, {"kind", "type", "shape"}},
      {ListColumn::Pixels, {"pixels", "pixelcount", "pixel", "count", "nodes", "lights", "numberofpixels"}},
      {ListColumn::Port, {"port", "output", "controllerport", "portnumber"}},
      {ListColumn::Universe, {"universe", "startuniverse", "firstuniverse", "uni"}},
      {ListColumn::Slot, {"slot", "startslot", "channel", "startchannel", "address", "startaddress"}},
      {ListColumn::Lead, {"lead", "leadlength", "cable", "cablelength", "wire", "length", "wirelength"}},
      {ListColumn::Notes, {"notes", "note", "remarks", "comment", "comments"}}};
  std::vector<ListColumn> columns(list.headings.size(), ListColumn::Ignored);
  for (const auto& [column, words] : known) {
    // The likelier word wins wherever it stands.
    for (const std::string& word : words) {
      const auto it =
          std::find_if(list.headings.begin(), list.headings.end(), [&](const std::string& heading) {
            // `Lead (ft)`: the unit is not its name.
            return plain(heading.substr(0, heading.find('('))) == word;
          });
      if (it == list.headings.end()) continue;
      ListColumn& place = columns[static_cast<std::size_t>(it - list.headings.begin())];
      if (place != ListColumn::Ignored) continue;
      place = column;
      break;
    }
  }
  return columns;
}

namespace {

/// One row after another into one change; a row is taken whole or not at all.
class Taker {
 public:
  Taker(const yard::Yard& yard, const std::vector<ListColumn>& columns, base::LengthUnit unit)
      : editor_(yard), columns_(columns), unit_(unit) {
    for (const auto& [id, prop] : yard::all<yard::Prop>(yard)) {
      byName_.emplace(plain(prop->name), id);
      if (!prop->wall) right_ = std::max(right_, prop->at.x);
    }
    for (const auto& [id, port] : yard::all<yard::Port>(yard))
      ports_.emplace(plain(yard::labelOf(yard, id)), id);
  }

  void take(const ListRow& row) {
    if (auto error = taken(row)) out_.refused.push_back({row.line, std::move(*error)});
  }
  ListTaken finish() {
    out_.change = editor_.finish(base::text(base::Message{"list_step", {}}));
    return std::move(out_);
  }

 private:
  std::string cell(const ListRow& row, ListColumn column) const {
    for (std::size_t k = 0; k < columns_.size() && k < row.cells.size(); ++k)
      if (columns_[k] == column) return row.cells[k];
    return {};
  }
  std::optional<base::Error> taken(const ListRow& row);
  base::Result<std::int64_t> number(const ListRow& row, ListColumn column, std::int64_t most) const;
  base::Result<yard::Prop> propOf(const ListRow& row, std::int64_t pixels, std::vector<base::Message>& notes);
  base::Result<const shapes::Kind*> kindOf(const std::string& typed) const;
  std::optional<base::Error> portRefused(Id port, Id prop, const std::string& typed) const;
  void string(Id port, Id prop, base::Length lead, std::int64_t universe, std::int64_t slot);
  base::Point nextPlace();

  edit::Editor editor_;
  const std::vector<ListColumn>& columns_;
  base::LengthUnit unit_;
  std::map<std::string, Id> byName_, ports_;
  std::map<Id, Id> runs_;  ///< of this list, by port
  base::Length right_{0};
  std::int64_t placed_ = 0;
  ListTaken out_;
};

base::Result<std::int64_t> Taker::number(const ListRow& row, ListColumn column, std::int64_t most) const {
  const std::string typed = cell(row, column);
  if (typed.empty()) return 0;
  std::int64_t value = 0;
  const auto [end, error] = std::from_chars(typed.data(), typed.data() + typed.size(), value);
  if (error != std::errc() || end != typed.data() + typed.size() || value < 1 || value > most)
    return tl::unexpected(refusal("list_not_a_count", {{"typed", typed}, {"most", most}},
                                  listColumnWords()[static_cast<std::size_t>(column)]));
  return value;
}

base::Result<const shapes::Kind*> Taker::kindOf(const std::string& typed) const {
  if (typed.empty()) return tl::unexpected(refusal("list_no_kind", {}, "kind"));
  const std::string word = kindWord(typed);
  for (const shapes::Kind& kind : shapes::kinds())
    if (kindWord(kind.name) == word || kindWord(kind.label) == word) return &kind;
  yard::Prop unknown;  // make() has the words for a kind that is not there
  unknown.kind = typed;
  return tl::unexpected(shapes::make(unknown).error());
}

base::Result<yard::Prop> Taker::propOf(const ListRow& row, std::int64_t pixels,
                                       std::vector<base::Message>& notes) {
  const auto kind = kindOf(cell(row, ListColumn::Kind));
  if (!kind) return tl::unexpected(kind.error());
  yard::Prop prop = shapes::usualProp((*kind)->name);
  prop.name = cell(row, ListColumn::Prop);
  prop.notes = cell(row, ListColumn::Notes);
  if (pixels == 0) return prop;
  const auto count = [](const yard::Prop& one) {
    const auto shape = shapes::make(one);
    return shape ? static_cast<std::int64_t>(shape->pixels.size()) : std::int64_t{0};
  };
  std::int64_t reached = count(prop);
  for (const std::string& size : shapes::fittingSizes(prop, shapes::Measure::Pixels)) {
    if (reached == pixels) break;
    const auto fit = shapes::fit({prop, shapes::Measure::Pixels, pixels, size});
    if (!fit || (reached <= pixels && fit->reached <= reached)) continue;
    prop = fit->prop;
    reached = fit->reached;
  }
  if (reached != pixels)
    notes.push_back({"list_other_pixels", {{"prop", prop.name}, {"listed", pixels}, {"pixels", reached}}});
  return prop;
}

std::optional<base::Error> Taker::portRefused(Id port, Id prop, const std::string& typed) const {
  if (!port) return refusal("list_no_port", {{"typed", typed}}, "port");
  const Id there = yard::runOnPort(editor_.yard(), port);
  if (there && !runs_.contains(port))
    return refusal("list_port_taken", {{"port", typed}, {"run", yard::labelOf(editor_.yard(), there)}},
                   "port");
  if (prop)
    for (const auto& [id, run] : yard::all<yard::Run>(editor_.yard()))
      for (const yard::RunItem& item : run->items)
        if (item.kind == yard::RunItemKind::Stretch && item.prop == prop)
          return refusal(
              "list_strung_already",
              {{"prop", yard::labelOf(editor_.yard(), prop)}, {"run", yard::labelOf(editor_.yard(), id)}},
              "port");
  return std::nullopt;
}

base::Point Taker::nextPlace() {
  constexpr std::int64_t kApart = 2'000'000'000;  // 2 m
  const std::int64_t n = placed_++;
  return {{right_.count + kApart * (1 + n / 10)}, {-kApart * (n % 10)}};
}

void Taker::string(Id port, Id prop, base::Length lead, std::int64_t universe, std::int64_t slot) {
  if (!runs_.contains(port)) {
    yard::Run run;
    run.port = port;
    run.startUniverse = universe;
    run.startSlot = slot;
    runs_[port] = editor_.add(run);
    ++out_.runs;
  }
  yard::RunItem item;
  item.prop = prop;
  if (lead.count > 0) {
    yard::Cable cable;
    cable.conductors = yard::ConductorSet::PowerAndData;
    cable.ownLength = lead;
    const auto& before = yard::find<yard::Run>(editor_.yard(), runs_[port])->items;
    cable.from = before.empty() ? yard::Terminal{yard::TerminalKind::Port, port, 0}
                                : yard::Terminal{yard::TerminalKind::PropOut, before.back().prop, 0};
    cable.to = {yard::TerminalKind::PropIn, prop, 0};
    item.lead = editor_.add(cable);
    ++out_.leads;
  }
  editor_.update<yard::Run>(runs_[port], [&](yard::Run& run) { run.items.push_back(item); });
}

std::optional<base::Error> Taker::taken(const ListRow& row) {
  const std::string name = cell(row, ListColumn::Prop), typedPort = cell(row, ListColumn::Port),
                    typedLead = cell(row, ListColumn::Lead);
  if (row.bad) return row.bad;
  if (name.empty()) return refusal("list_no_name", {}, "prop");
  const auto pixels = number(row, ListColumn::Pixels, shapes::kMostPixels);
  const auto universe = number(row, ListColumn::Universe, 63'999);
  const auto slot = number(row, ListColumn::Slot, 512);
  for (const auto* one : {&pixels, &universe, &slot})
    if (!*one) return one->error();
  base::Length lead{0};
  if (!typedLead.empty()) {
    const auto read = base::parseLength(typedLead, unit_);
    if (!read) return read.error();
    lead = *read;
    if (lead.count <= 0 || lead > base::feet(1'000))
      return refusal("list_lead_out_of_range", {{"lead", lead}}, "lead");
  }
  const auto known = byName_.find(plain(name));
  Id prop = known == byName_.end() ? Id{} : known->second;
  Id port;
  if (!typedPort.empty()) {
    const auto it = ports_.find(plain(typedPort));
    port = it == ports_.end() ? Id{} : it->second;
    if (auto error = portRefused(port, prop, typedPort)) return error;
  }
  if (!prop) {
    std::vector<base::Message> notes;
    auto made = propOf(row, *pixels, notes);
    if (!made) return made.error();
    made->at = nextPlace();
    prop = editor_.add(std::move(*made));
    byName_.emplace(plain(name), prop);
    ++out_.props;
    out_.notes.insert(out_.notes.end(), notes.begin(), notes.end());
  } else if (typedPort.empty()) {
    return refusal("list_prop_there", {{"prop", name}}, "prop");
  }
  if (port) string(port, prop, lead, *universe, *slot);
  return std::nullopt;
}

}  // namespace

base::Result<ListTaken> takeList(const yard::Yard& yard, const List& list,
                                 const std::vector<ListColumn>& columns, base::LengthUnit unit) {
  if (std::count(columns.begin(), columns.end(), ListColumn::Prop) != 1)
    return tl::unexpected(refusal("list_no_prop_column", {}));
  Taker taker(yard, columns, unit);
  for (const ListRow& row : list.rows) taker.take(row);
  return taker.finish();
}

}  // namespace yw::propose
