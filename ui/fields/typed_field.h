#pragma once
#include "ui/fields/value_text.h"

class QLabel;
class QLineEdit;

namespace yw::ui {

/// A value that is typed: Enter or leaving the field commits, Esc restores; the whole text is read or refused
/// with the reason beneath, and while typing the reading stands there. Text that was not touched is never
/// read back, so what is shown rounded stays exact.
class TypedField : public ValueField {
  Q_OBJECT
 public:
  explicit TypedField(yard::FieldInfo info, std::string currency = "$", QWidget* parent = nullptr);
  void display(const std::vector<yard::FieldValue>& values, base::UnitSystem units) override;
  void setNames(const QString& name, const QString& label) override;
  QLineEdit* edit() const { return edit_; }
  QString reading() const;
  /// Reads what is typed now and hands it over; true if it was taken or nothing was typed.
  bool commitTyped();
  void restore();

 protected:
  bool eventFilter(QObject* watched, QEvent* event) override;

 private:
  void showReading();
  bool turnWheel(QEvent* event);
  yard::FieldInfo info_;
  TextStyle style_;
  QLineEdit* edit_;
  QLabel* unit_;
  QLabel* reading_;
  std::vector<yard::FieldValue> values_;
};

/// The one field for lengths, everywhere (see base::parseLength).
class LengthField : public TypedField {
  Q_OBJECT
 public:
  enum class Scale { Yard, Hand };  ///< a bare number is feet or metres; inches or centimetres
  explicit LengthField(Scale scale, QWidget* parent = nullptr);
};

}  // namespace yw::ui
