#pragma once
#include "core/shapes/inverse.h"
#include "ui/panels/form_part.h"

class QComboBox;
class QLabel;
class QPushButton;
class QVBoxLayout;

namespace yw::ui {

class TypedField;

/// From what the person has to the prop's sizes: so many pixels, so much room, a port, strips. Each size that
/// can do it is proposed as a button that says what comes of it; pressed, it is one step. None is over what
/// there is.
class FitPart : public FormPart {
  Q_OBJECT
 public:
  FitPart(Document& document, std::set<base::Id> ids, QWidget* parent);
  void refresh() override;

 private:
  enum class Have { Pixels, Width, Height, Port, Strips, StripLength, Depth };
  TypedField* addField(const char* name, const QString& label, bool length, std::int64_t& value);
  void build();
  void offerWhatThereIs();
  void showFields();
  void propose();
  void addProposal(const shapes::Fit& fit);
  void take(const shapes::Fit& fit);
  Have have() const;
  shapes::Measure measure() const;
  bool room() const { return measure() != shapes::Measure::Pixels; }
  base::Result<shapes::FitRequest> request(const yard::Prop& prop) const;

  QPushButton* open_;
  QWidget* body_;
  QComboBox *what_ = nullptr, *port_ = nullptr;
  TypedField *pixels_ = nullptr, *room_ = nullptr, *strips_ = nullptr, *each_ = nullptr;
  QVBoxLayout* proposals_ = nullptr;
  QWidget* answers_ = nullptr;
  std::int64_t pixelsHave_ = 0, roomHave_ = 0, stripsHave_ = 0, eachHave_ = 0;
  std::string shownFor_;
};

}  // namespace yw::ui
