//! Text to a typed reading: what a training partner would have understood.

pub mod command;
pub mod reading;
#[derive(Clone, Debug)]
pub struct Reader;
impl Reader {
    pub fn is_word(&self, _: &str) -> bool {
        todo!()
    }
    pub fn new(_: std::sync::Arc<crate::domain::catalogue::Catalogue>) -> Self {
        Reader
    }
    pub fn catalogue(&self) -> &crate::domain::catalogue::Catalogue {
        todo!()
    }
    pub fn read(&self, _: &str, _: &Context) -> reading::Reading {
        todo!()
    }
    pub fn exercise_named(&self, _: &str) -> Option<crate::domain::id::ExerciseId> {
        todo!()
    }
    pub fn muscle_named(&self, _: &str) -> Option<crate::domain::id::MuscleId> {
        todo!()
    }
}
#[derive(Clone, Debug)]
pub struct Context<'a> {
    pub unit: crate::domain::mass::Unit,
    pub last: Option<&'a reading::SetReading>,
    pub pending: Option<&'a reading::Unclear>,
}
pub enum Answer {
    Exercise(crate::domain::id::ExerciseId),
    Load(reading::DraftLoad),
    Reps(u32),
    Effort(Option<crate::domain::effort::Rir>),
    Pick(usize),
}
pub fn complete(_: &reading::Unclear, _: &Answer) -> Option<reading::Reading> {
    todo!()
}
