namespace LiveStems.Engine.RealTime;

/// <summary>
/// Turns a step between two signals into a slope: the height of the step is added to the new signal and fades away along
/// a raised cosine.
/// </summary>
internal struct FadeFromStep(int fadeFrames)
{
    private readonly int fadeFrames = fadeFrames;
    private float stepLeft;
    private float stepRight;
    private int position = fadeFrames;

    public void Start(float heightLeft, float heightRight)
    {
        stepLeft = heightLeft;
        stepRight = heightRight;
        position = 0;
    }

    public void Reset() => position = fadeFrames;

    public void Apply(Span<float> left, Span<float> right)
    {
        for (int i = 0; i < left.Length && position < fadeFrames; i++, position++)
        {
            float share = 0.5f + 0.5f * MathF.Cos(MathF.PI * position / fadeFrames);
            left[i] += stepLeft * share;
            right[i] += stepRight * share;
        }
    }
}
