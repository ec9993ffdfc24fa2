using LiveStems.Dsp.Space;
using LiveStems.Processing.Contract;

namespace LiveStems.Processing.Processors.Room;

/// <summary>The room's parameters, in the order of their indices.</summary>
internal static class RoomParameters
{
    public const int WetPercent = 0;
    public const int PreDelayMs = 1;
    public const int SizeMetres = 2;
    public const int Rt60Ms = 3;
    public const int DampingPercent = 4;
    public const int DampingHz = 5;
    public const int LowCutHz = 6;
    public const int EarlyDb = 7;
    public const int SpreadPercent = 8;
    public const int WidthPercent = 9;

    public static readonly ProcessorDescription Description = new(
        "room",
        "Room",
        1,
        "Puts a dry stem into a small room, so that it stands among the others and not in front of them.",
        [
            new("wetPercent", "Room", ParameterUnit.Percent, 0, 100, 8, Taper.Linear, "How much room there is: to 50 % it is added to the whole sound, from there on the sound goes; at 100 % there is only room."),
            new("preDelayMs", "Pre-delay", ParameterUnit.Milliseconds, 0, RoomReverberator.LongestPreDelayMs, 5, Taper.Linear, "Time before the room answers; longer keeps the sound in front."),
            new("sizeMetres", "Size", ParameterUnit.None, 3, 20, 6, Taper.Logarithmic, "Edge of the room in metres: sets how close the reflections lie.") { IsStructural = true },
            new("rt60Ms", "Reverberation time", ParameterUnit.Milliseconds, 100, 3000, 500, Taper.Logarithmic, "Time the room takes to fall by 60 dB."),
            new("dampingPercent", "Damping", ParameterUnit.Percent, 0, 90, 50, Taper.Linear, "How much shorter high frequencies last."),
            new("dampingHz", "Damping frequency", ParameterUnit.Hertz, 1000, 16_000, 8000, Taper.Logarithmic, "Above this frequency the damping works, with a gentle start."),
            new("lowCutHz", "Low cut", ParameterUnit.Hertz, 20, 1000, 200, Taper.Logarithmic, "Keeps low frequencies out of the room, 12 dB/oct; the sound itself is not filtered."),
            new("earlyDb", "Early reflections", ParameterUnit.Decibels, -40, 6, -3, Taper.Linear, "Level of the first reflections beside the reverberation behind them."),
            new("spreadPercent", "Spread", ParameterUnit.Percent, 0, 100, 100, Taper.Linear, "How far the room of a mono sound opens to both sides; at 0 % it stays in the middle."),
            new("widthPercent", "Width", ParameterUnit.Percent, 0, 150, 100, Taper.Linear, "Width of the room's answer; at 0 % it is mono."),
        ],
        ListensToKey: false);
}
