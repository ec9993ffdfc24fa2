using LiveStems.Albums.Model;

namespace LiveStems.Albums.Import;

/// <summary>What stems are called by the engineers who deliver them (common practice), by role; plurals go without saying.</summary>
internal static class RoleWords
{
    public static IReadOnlyDictionary<StemRole, string[]> Table { get; } = new Dictionary<StemRole, string[]>
    {
        [StemRole.Drums] =
        [
            "drum", "drm", "drs", "drum kit", "kit", "kick", "kik", "kck", "kick drum", "bass drum", "bd", "kd", "snare", "snr", "snare drum", "sn", "sd",
            "hat", "hi hat", "hh", "overhead", "oh", "tom", "floor tom", "cymbal", "cym", "ride", "crash", "drum room", "drum bus", "drum loop", "room drum",
            "beat", "break", "break beat",
        ],
        [StemRole.Bass] =
        [
            "bass", "bs", "bass guitar", "bass gtr", "bass git", "bass di", "bass amp", "sub", "sub bass", "synth bass", "bass synth", "syn bass", "bass syn", "double bass", "upright bass",
            "upright", "acoustic bass", "electric bass", "fretless", "fretless bass", "contrabass", "808", "808 bass", "keys bass", "key bass",
        ],
        [StemRole.Guitar] =
        [
            "guitar", "gtr", "gt", "git", "guit", "lead guitar", "lead gtr", "rhythm guitar", "rhythm gtr", "acoustic guitar", "acoustic gtr", "ac gtr", "a gtr", "e gtr", "el gtr", "electric guitar",
            "electric gtr", "guitar lead", "guitar solo", "acoustic", "nylon", "12 string", "slide", "slide guitar", "steel", "pedal steel", "lap steel", "banjo", "mandolin", "ukulele", "uke",
        ],
        [StemRole.Keys] =
        [
            "key", "kbd", "keyboard", "piano", "pno", "grand", "grand piano", "upright piano", "electric piano", "e piano", "el piano", "ep", "organ", "org",
            "clav", "harpsichord", "celesta", "harmonium", "melodica", "accordion", "lead keys", "keys lead",
        ],
        [StemRole.Synth] =
        [
            "synth", "syn", "synthesiser", "synthesizer", "lead synth", "synth lead", "lead syn", "syn lead", "poly synth", "mono synth", "pad", "synth pad", "string pad", "strings pad", "key pad", "keys pad",
            "guitar synth", "synth string", "synth brass", "arp", "synth arp", "arpeggio", "pluck", "seq", "sequence", "sequencer", "vocal synth",
        ],
        [StemRole.Strings] =
        [
            "string", "strs", "strg", "string section", "string quartet", "violin", "vln", "viola", "vla", "cello", "celli", "vlc", "fiddle", "orchestra", "orch", "bass string",
        ],
        [StemRole.LeadVocal] =
        [
            "vocal", "vox", "voc", "voice", "singer", "lead vocal", "lead vox", "lead voc", "lead voice", "ld vocal", "ld vox", "ld voc", "l vox", "l voc", "lv", "ldv", "ldvx", "main vocal", "main vox",
            "vocal lead", "vox lead", "voc lead", "vocal double", "vox double", "vox dbl", "vocal dbl", "lead double", "rap", "a cappella", "acapella",
        ],
        [StemRole.BackingVocal] =
        [
            "backing vocal", "backing vox", "backing voc", "backing voice", "backing", "background vocal", "background vox", "bg vocal", "bg vox", "bg voc", "bgv", "bgvx", "bv", "bvox", "bvoc", "bk vox", "bk vocal", "back vox", "back vocal", "backup vocal",
            "harmony", "harmonies", "harm", "harmony vocal", "harmony vox", "vocal harmony", "vox harmony", "vocal harmonies", "vox harmonies", "choir", "chorus vocal", "chorus vox", "vocal choir", "gang", "gang vocal", "gang vox", "crowd vocal",
            "vocal stack", "vox stack", "ooh", "aah", "ad lib", "vocal backing", "vox backing", "vox bg", "vocal bg",
        ],
        [StemRole.Percussion] =
        [
            "percussion", "perc", "prc", "shaker", "shk", "tambourine", "tamb", "conga", "bongo", "cowbell", "clap", "hand clap", "snap", "finger snap", "triangle", "wood block", "maraca", "cabasa", "guiro", "djembe",
            "cajon", "timbale", "timpani", "clave", "bell", "glockenspiel", "glock", "vibraphone", "marimba", "xylophone", "drum perc", "perc drum", "hand drum", "frame drum", "perc loop",
        ],
        [StemRole.Effects] =
        [
            "fx", "efx", "sfx", "effect", "sound effect", "riser", "impact", "sweep", "noise", "atmos", "atmosphere", "ambience", "ambient", "reverb", "verb", "rev", "delay", "dly", "echo", "foley", "transition", "field recording", "swell",
            "vocal fx", "vox fx", "voc fx", "vocal effect", "vox effect", "drum fx", "guitar fx", "gtr fx", "synth fx", "perc fx", "bass fx", "bass drop",
        ],
    };
}
