#include "analysis/analysis.h"

namespace relead::analysis {

std::string_view to_string(Function function) {
    switch (function) {
        case Function::tonic:
            return "tonic";
        case Function::predominant:
            return "predominant";
        case Function::dominant:
            return "dominant";
        case Function::substitute_dominant:
            return "substitute dominant";
        case Function::backdoor:
            return "backdoor";
        case Function::passing_diminished:
            return "passing diminished";
        case Function::auxiliary_diminished:
            return "auxiliary diminished";
        case Function::borrowed:
            return "borrowed";
        case Function::modal:
            return "modal";
        case Function::other:
            break;
    }
    return "other";
}

std::string_view to_string(Relation relation) {
    return relation == Relation::prepares ? "prepares" : "prolongs";
}

}  // namespace relead::analysis
