#pragma once
#include <QDialog>

#include "ui/panels/measured.h"

class QComboBox;
class QLabel;

namespace yw::ui {

class TypedField;

/// What a meter said at one place: volts, amps or both, while all pixels were white at a brightness.
class MeasuredDialog : public QDialog {
  Q_OBJECT
 public:
  MeasuredDialog(Document& document, std::vector<MeasuringPlace> places, QWidget* parent = nullptr);
  const yard::Measurement& value() const { return value_; }
  /// Only with whole, readable text and at least one of volts and amps.
  void accept() override;

 private:
  void addField(const char* name);
  std::vector<MeasuringPlace> places_;
  yard::Measurement value_;
  base::UnitSystem units_;
  QComboBox* where_;
  std::vector<TypedField*> fields_;
  QLabel* reason_;
};

}  // namespace yw::ui
