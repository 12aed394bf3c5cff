#include <nlohmann/json.hpp>

#include "core/yard/codec.h"
#include "core/yard/member_type.h"

namespace yw::yard {
namespace {

/// Text between quotes, escaped as JSON wants it; bytes that are not UTF-8 become U+FFFD.
std::string quoted(const std::string& text) {
  return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

/// Appends members as `,"name":value`.
class Writer {
 public:
  explicit Writer(std::string& out) : out_(out) {}

  template <class T>
  void operator()(const Field& field, const T& value) {
    if (!first_) out_ += ',';
    first_ = false;
    out_ += '"';
    out_ += field.name;
    out_ += "\":";
    write(value);
  }

 private:
  void write(std::int64_t value) { out_ += std::to_string(value); }
  void write(bool value) { out_ += value ? "true" : "false"; }
  void write(const std::string& value) { out_ += quoted(value); }
  void write(Id value) { write(value.value); }
  void write(Point value) {
    out_ += '[' + std::to_string(value.x.count) + ',' + std::to_string(value.y.count) + ']';
  }
  template <class Tag>
  void write(base::Exact<Tag> value) {
    write(value.count);
  }
  template <class V>
  void write(const std::map<std::string, V>& values) {
    out_ += '{';
    for (auto it = values.begin(); it != values.end(); ++it) {
      if (it != values.begin()) out_ += ',';
      out_ += quoted(it->first) + ':';
      write(it->second);
    }
    out_ += '}';
  }
  template <class T>
  void write(const std::vector<T>& items) {
    out_ += '[';
    for (std::size_t i = 0; i < items.size(); ++i) {
      if (i > 0) out_ += ',';
      write(items[i]);
    }
    out_ += ']';
  }
  template <class T>
  requires std::is_enum_v<T>
  void write(T value) {
    const auto& all = words(value);
    const auto index = static_cast<std::size_t>(value);
    out_ += '"';
    out_ += all[index < all.size() ? index : 0].name;
    out_ += '"';
  }
  template <class T>
  requires kIsNested<T>
  void write(const T& value) {
    out_ += '{';
    first_ = true;
    eachField(value, *this);
    first_ = false;
    out_ += '}';
  }

  std::string& out_;
  bool first_ = false;
};

}  // namespace

std::string encode(Id id, const Record& record) {
  std::string out =
      "{\"id\":" + std::to_string(id.value) + ",\"kind\":\"" + kindWords()[record.index()].name + '"';
  Writer writer(out);
  std::visit([&](const auto& r) { eachField(r, writer); }, record);
  return out += '}';
}

}  // namespace yw::yard
