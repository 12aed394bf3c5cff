#include "core/yard/field_value.h"

#include <algorithm>
#include <utility>

#include "core/yard/member_type.h"

namespace yw::yard {
namespace {

template <class T>
constexpr FieldType typeOf() {
  if constexpr (std::is_same_v<T, std::string>) return FieldType::Text;
  if constexpr (std::is_same_v<T, bool>) return FieldType::Flag;
  if constexpr (std::is_same_v<T, std::int64_t>) return FieldType::Count;
  if constexpr (std::is_enum_v<T>) return FieldType::Choice;
  if constexpr (std::is_same_v<T, Id>) return FieldType::Reference;
  if constexpr (std::is_same_v<T, Length>) return FieldType::Length;
  if constexpr (std::is_same_v<T, Angle>) return FieldType::Angle;
  if constexpr (std::is_same_v<T, Voltage>) return FieldType::Voltage;
  if constexpr (std::is_same_v<T, Current>) return FieldType::Current;
  if constexpr (std::is_same_v<T, Resistance>) return FieldType::Resistance;
  if constexpr (std::is_same_v<T, Power>) return FieldType::Power;
  if constexpr (std::is_same_v<T, Ratio>) return FieldType::Ratio;
  if constexpr (std::is_same_v<T, Money>) return FieldType::Money;
  if constexpr (std::is_same_v<T, Duration>) return FieldType::Duration;
  if constexpr (std::is_same_v<T, Frequency>) return FieldType::Frequency;
  if constexpr (std::is_same_v<T, Temperature>) return FieldType::Temperature;
  if constexpr (std::is_same_v<T, Mass>) return FieldType::Mass;
  if constexpr (std::is_same_v<T, Speed>) return FieldType::Speed;
  if constexpr (std::is_same_v<T, Area>) return FieldType::Area;
  if constexpr (std::is_same_v<T, Point>) return FieldType::Point;
  return FieldType::List;
}

/// A value in words for a refusal: with its unit where messages know one.
template <class T>
base::Fact factOf(const T&, std::int64_t count) {
  if constexpr (std::is_constructible_v<base::Fact, T> && IsExact<T>::value) return T{count};
  return count;
}

/// Lists what fields() says.
struct Lister {
  std::vector<FieldInfo> found;
  template <class T>
  void operator()(const Field& f, const T&) {
    FieldInfo info{f.name, f.label, f.help, typeOf<T>(), f.refersTo, {}, f.hidden, leastOf(f), mostOf(f)};
    if constexpr (std::is_enum_v<T>) info.choices = words(T{});
    found.push_back(std::move(info));
  }
};

/// Takes the value of one named field.
struct Taker {
  const std::string& name;
  std::optional<FieldValue> value;
  template <class T>
  void operator()(const Field& f, const T& member) {
    if (name != f.name) return;
    if constexpr (std::is_same_v<T, std::string> || std::is_same_v<T, Point>)
      value = member;
    else if constexpr (std::is_same_v<T, Id>)
      value = member.value;
    else if constexpr (IsExact<T>::value)
      value = member.count;
    else if constexpr (typeOf<T>() != FieldType::List)
      value = static_cast<std::int64_t>(member);
  }
};

/// Puts a value into one named field, or keeps why it cannot.
class Putter {
 public:
  Putter(const std::string& name, const FieldValue& value) : name_(name), value_(value) {}
  std::optional<base::Message> refusal = base::Message{"field_unknown", {}};

  template <class T>
  void operator()(const Field& f, T& member) {
    if (name_ != f.name) return;
    refusal.reset();
    if constexpr (typeOf<T>() == FieldType::List) {
      refusal = base::Message{"field_is_list", {{"field", std::string(f.label)}}};
    } else if constexpr (std::is_same_v<T, std::string> || std::is_same_v<T, Point>) {
      if (const auto* given = std::get_if<T>(&value_)) return put(f, member, *given);
      wrongType(f);
    } else {
      if (const auto* given = std::get_if<std::int64_t>(&value_)) return put(f, member, *given);
      wrongType(f);
    }
  }

 private:
  void wrongType(const Field& f) {
    refusal = base::Message{"field_wrong_type", {{"field", std::string(f.label)}}};
  }
  void put(const Field&, std::string& member, const std::string& given) { member = given; }
  void put(const Field& f, Point& member, Point given) {
    const auto [low, high] = std::minmax(given.x.count, given.y.count);
    const bool far = low < -kLargestNumber || high > kLargestNumber;
    if (far)
      refusal = base::Message{"field_too_far", {{"field", std::string(f.label)}}};
    else
      member = given;
  }
  template <class T>
  void put(const Field& f, T& member, std::int64_t given) {
    std::int64_t least = leastOf(f), most = mostOf(f);
    if constexpr (std::is_same_v<T, bool>) least = 0, most = 1;
    if constexpr (std::is_same_v<T, Id>) least = 0;
    if constexpr (std::is_enum_v<T>) least = 0, most = static_cast<std::int64_t>(words(T{}).size()) - 1;
    if (given < least || given > most) {
      refusal = limits(f, member, given, least, most);
    } else if constexpr (IsExact<T>::value) {
      member.count = given;
    } else if constexpr (std::is_same_v<T, Id>) {
      member.value = given;
    } else {
      member = static_cast<T>(given);
    }
  }
  template <class T>
  static base::Message limits(const Field& f, const T& member, std::int64_t given, std::int64_t least,
                              std::int64_t most) {
    const char* key = "field_out_of_limits";
    if (least == -kLargestNumber)
      key = "field_too_large";
    else if (most == kLargestNumber)
      key = "field_too_small";
    return {key,
            {{"field", std::string(f.label)},
             {"value", factOf(member, given)},
             {"least", factOf(member, least)},
             {"most", factOf(member, most)}}};
  }

  const std::string& name_;
  const FieldValue& value_;
};

template <class R>
base::Result<R> withField(R record, const std::string& field, const FieldValue& value) {
  Putter putter(field, value);
  eachField(record, putter);
  if (!putter.refusal) return record;
  putter.refusal->facts.emplace("name", field);
  return base::fail(base::ErrorCode::BadInput, *putter.refusal);
}

template <class R>
std::vector<FieldInfo> listed(const R& record) {
  Lister lister;
  eachField(record, lister);
  return std::move(lister.found);
}

template <class R>
std::optional<FieldValue> taken(const R& record, const std::string& field) {
  Taker taker{field, {}};
  eachField(record, taker);
  return std::move(taker.value);
}

template <std::size_t... I>
Record ofKind(std::size_t kind, std::index_sequence<I...>) {
  Record record;
  ((kind == I ? void(record.emplace<I>()) : void()), ...);
  return record;
}

}  // namespace

Record defaultRecord(RecordKind kind) {
  return ofKind(static_cast<std::size_t>(kind), std::make_index_sequence<kRecordKinds>{});
}

std::vector<FieldInfo> fieldsOf(RecordKind kind) {
  return std::visit([](const auto& r) { return listed(r); }, defaultRecord(kind));
}
std::vector<FieldInfo> fieldsOf(const PowerSection& section) { return listed(section); }
std::vector<FieldInfo> fieldsOf(const Opening& opening) { return listed(opening); }

std::optional<FieldValue> valueOf(const Record& record, const std::string& field) {
  return std::visit([&](const auto& r) { return taken(r, field); }, record);
}
std::optional<FieldValue> valueOf(const PowerSection& record, const std::string& field) {
  return taken(record, field);
}
std::optional<FieldValue> valueOf(const Opening& record, const std::string& field) {
  return taken(record, field);
}

base::Result<Record> withValue(const Record& record, const std::string& field, const FieldValue& value) {
  return std::visit(
      [&](const auto& r) -> base::Result<Record> {
        auto changed = withField(r, field, value);
        if (!changed) return tl::unexpected(changed.error());
        return Record{*std::move(changed)};
      },
      record);
}
base::Result<PowerSection> withValue(const PowerSection& record, const std::string& field,
                                     const FieldValue& value) {
  return withField(record, field, value);
}
base::Result<Opening> withValue(const Opening& record, const std::string& field, const FieldValue& value) {
  return withField(record, field, value);
}

bool fieldCounts(const Record& record, const std::string& field) {
  const auto* feature = std::get_if<GroundFeature>(&record);
  if (feature == nullptr) return true;
  using enum FeatureKind;
  const FeatureKind kind = feature->kind;
  if (field == "height") return false;  // nothing is computed from it; walls have heights of their own
  if (field == "reason")
    return kind == KeepOut || kind == BuriedLine || kind == PublicStrip || kind == SightTriangle;
  if (field == "tolerance") return kind == KeepOut || kind == BuriedLine;
  if (field == "blocks_leads")
    return kind == House || kind == Tree || kind == Water || kind == KeepOut || kind == Fence;
  if (field == "dug") return kind == Trench;
  if (field == "crossing_allowed") return kind == Walk || kind == Drive;
  if (field == "clear_from" || field == "clear_to") return kind == SightTriangle;
  return true;
}

}  // namespace yw::yard
