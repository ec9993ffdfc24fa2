namespace LiveStems.Dsp.Dynamics;

/// <summary>
/// What a sound's level has been for some seconds: the mean of its power, at first over all that was heard, then with a
/// time constant. Pauses do not count, and nothing but <see cref="SilencePower"/> knows about absolute level.
/// </summary>
public sealed class LongTermPower
{
    /// <summary>Time constant, ms.</summary>
    public const double WindowMs = 3000;

    /// <summary>How far below the mean a pause begins, dB.</summary>
    public const double PauseDb = 20;

    /// <summary>Mean power of silence, −100 dB.</summary>
    public const double SilencePower = 1e-10;

    private readonly double pause = Decibels.ToPower(-PauseDb);
    private double leastShare;
    private double count;

    /// <summary>The mean power, at least <see cref="SilencePower"/>.</summary>
    public double Power { get; private set; } = SilencePower;

    /// <summary>Sets how many times a second <see cref="Next"/> is called.</summary>
    public void SetRate(double stepsPerSecond) => leastShare = 1 - TimeConstant.Pole(WindowMs, stepsPerSecond);

    /// <summary>Silence before.</summary>
    public void Reset()
    {
        count = 0;
        Power = SilencePower;
    }

    /// <summary>Takes the power of a step.</summary>
    public void Next(double power)
    {
        if (power <= SilencePower || power < pause * Power)
        {
            return;
        }

        count++;
        Power += Math.Max(1 / count, leastShare) * (power - Power);
    }
}
