#pragma once
#include "core/shapes/shape.h"
#include "ui/fields/value_field.h"
#include "ui/panels/form_part.h"

class QFormLayout;
class QLabel;

namespace yw::ui {

class ChoiceField;
class TypedField;

/// Sizes and choices of a prop by its kind's schema, and what follows from them: pixels, true pitch, where
/// data goes in and out, warnings; a refused size says why at its field. What makes no difference is not
/// asked for.
class PropPart : public FormPart {
  Q_OBJECT
 public:
  PropPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 private:
  QString commitSize(const shapes::SizeInfo& size, const FieldEdit& edit, const std::string& mergeKey);
  QString commitChoice(const shapes::ChoiceInfo& choice, std::int64_t option);
  QString commitProps(const QString& label, const std::function<void(yard::Prop&)>& change,
                      const std::string& mergeKey);
  void showFacts();
  void showIfCounts(const shapes::Needs& needs, ValueField* field);
  QFormLayout* form_ = nullptr;
  const shapes::Kind* kind_ = nullptr;
  std::vector<std::pair<const shapes::SizeInfo*, TypedField*>> sizes_;
  std::vector<std::pair<const shapes::ChoiceInfo*, ChoiceField*>> choices_;
  QLabel* facts_ = nullptr;
  QLabel* warnings_ = nullptr;
};

}  // namespace yw::ui
